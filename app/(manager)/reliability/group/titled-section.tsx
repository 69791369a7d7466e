import { type ReactNode, useId } from "react";

export function TitledSection({ title, children }: { title: string; children: ReactNode }) {
  const id = useId();
  return (
    <section aria-labelledby={id} className="min-w-0 space-y-3">
      <h2 id={id} className="border-b-2 border-ink pb-1">
        {title}
      </h2>
      {children}
    </section>
  );
}
