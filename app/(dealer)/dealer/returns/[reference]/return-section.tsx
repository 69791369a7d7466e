import { type ReactNode, useId } from "react";

export function ReturnSection({ title, children }: { title: string; children: ReactNode }) {
  const id = useId();
  return (
    <section aria-labelledby={id}>
      <h2 id={id} className="mb-3 border-b-2 border-ink pb-1">
        {title}
      </h2>
      {children}
    </section>
  );
}
