import type { ReactNode } from "react";

export interface Fact {
  readonly term: string;
  readonly detail: ReactNode;
}

/** Cells of a card: a small printed caption above what was entered. Two abreast where there is room. */
export function FactList({ facts, columns = 2 }: { facts: readonly Fact[]; columns?: 1 | 2 }) {
  return (
    <dl className={`grid gap-px border border-rule bg-rule ${columns === 2 ? "sm:grid-cols-2" : ""}`}>
      {facts.map((fact) => (
        <div key={fact.term} className="min-w-0 bg-raised px-3 py-2 last:odd:sm:col-span-full">
          <dt className="caption-print">{fact.term}</dt>
          <dd>{fact.detail}</dd>
        </div>
      ))}
    </dl>
  );
}
