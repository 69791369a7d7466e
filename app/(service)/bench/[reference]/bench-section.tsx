import { type ReactNode, useId } from "react";

/** One part of the page under its own heading; h3 where it stands within a part. */
export function BenchSection({ title, children }: { title: string; children: ReactNode }) {
  const id = useId();
  return (
    <section aria-labelledby={id} className="space-y-3">
      <h3 id={id} className="border-b border-edge pb-1">
        {title}
      </h3>
      {children}
    </section>
  );
}

/** One of the three columns: who and what it is, what the readings show, what to do next. */
export function BenchColumn({ id, title, children }: { id: string; title: string; children: ReactNode }) {
  return (
    <section aria-labelledby={id} className="min-w-0 space-y-6">
      <h2 id={id} className="border-b-2 border-ink pb-1">
        {title}
      </h2>
      {children}
    </section>
  );
}
