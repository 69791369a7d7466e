import { VersionCard } from "@/app/_two-people/version-card";
import type { PolicyView } from "@/lib/data/warranty/policies";
import { settlePolicyAction } from "./actions";

interface PolicyCardProps {
  readonly policy: PolicyView;
  readonly maySettle: boolean;
  /** What the shadow run says now; for a proposal. */
  readonly shadow: string | null;
}

export function PolicyCard({ policy, maySettle, shadow }: PolicyCardProps) {
  return (
    <VersionCard row={policy} maySettle={maySettle} another="another manager" action={settlePolicyAction}>
      <ul className="list-disc space-y-1 pl-5">
        {policy.inWords.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      {shadow === null ? null : <p className="font-semibold">{shadow}</p>}
      {policy.shadowSentence === null ? null : (
        <p className="text-soft">When it was settled: {policy.shadowSentence}</p>
      )}
    </VersionCard>
  );
}
