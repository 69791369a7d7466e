import type { OtherStep } from "@/lib/returns/next-steps";

interface OtherStepsProps {
  readonly shut: readonly { readonly label: string; readonly whyNot: string }[];
  readonly others: readonly OtherStep[];
}

/** What is not open now and why, and what waits for somebody else's hand: nobody has to guess. */
export function OtherSteps({ shut, others }: OtherStepsProps) {
  if (shut.length === 0 && others.length === 0) return null;
  return (
    <details className="text-sm">
      <summary className="min-h-11 cursor-pointer py-2.5 font-semibold">Steps not open to you now, and why</summary>
      <dl className="space-y-2">
        {shut.map(({ label, whyNot }) => (
          <div key={label}>
            <dt className="font-semibold">{label}</dt>
            <dd>{whyNot}</dd>
          </div>
        ))}
        {others.map(({ name, label, who }) => (
          <div key={name}>
            <dt className="font-semibold">{label}</dt>
            <dd>Done by: {who.join(", ").toLowerCase()}.</dd>
          </div>
        ))}
      </dl>
    </details>
  );
}
