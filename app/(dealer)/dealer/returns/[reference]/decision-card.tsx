import { FactList } from "@/app/_components/fact-list";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { TimeToObjectLine } from "@/app/_remedy/time-to-object-line";
import type { DecisionView } from "@/lib/data/returns/returns";
import { remedyLabels, sayConfirmedFault } from "@/lib/returns/decision.schema";
import type { TimeToObject } from "@/lib/returns/told-periods";

interface DecisionCardProps {
  readonly decision: DecisionView;
  /** Null where what was promised cannot be read. */
  readonly time: TimeToObject | null;
}

export function DecisionCard({ decision, time }: DecisionCardProps) {
  const { remedy, confirmedFault, reason, replacementRevisionCode, decidedAt, decidedByName } = decision;
  return (
    <section aria-labelledby="decision-title" className="border-2 border-accent bg-accent-paper">
      <div className="p-4">
        <h2 id="decision-title">Decided: {labelOf(remedyLabels, remedy)}</h2>
        <p dir="auto" className="mt-1 whitespace-pre-line">
          {reason}
        </p>
        {time === null ? null : (
          <div className="mt-3">
            <TimeToObjectLine time={time} whose="own" />
          </div>
        )}
      </div>
      <FactList
        facts={[
          { term: "Fault found", detail: sayConfirmedFault(confirmedFault) },
          ...(replacementRevisionCode === null
            ? []
            : [{ term: "Replaced by revision", detail: replacementRevisionCode }]),
          { term: "Decided by", detail: decidedByName },
          { term: "Decided on", detail: <LocalTime at={decidedAt} /> },
        ]}
      />
    </section>
  );
}
