import { FactList } from "@/app/_components/fact-list";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { remedyLabels, sayConfirmedFault } from "@/lib/returns/decision.schema";

/** What was decided, by whom, on what, and how the statistics count it. */
export function DecisionCard({ decision }: { decision: NonNullable<BenchReturn["decision"]> }) {
  const { remedy, confirmedFault, confirmedFailure, reason, replacementRevisionCode } = decision;
  return (
    <section aria-labelledby="decision-title" className="border-2 border-accent bg-accent-paper">
      <div className="p-4">
        <h3 id="decision-title" tabIndex={-1} className="text-lg focus:outline-none">
          Decided: {labelOf(remedyLabels, remedy)}
        </h3>
        <p dir="auto" className="mt-1 whitespace-pre-line">
          {reason}
        </p>
      </div>
      <FactList
        columns={1}
        facts={[
          { term: "Fault found", detail: sayConfirmedFault(confirmedFault) },
          {
            term: "In the failure rates",
            detail: confirmedFailure ? "Counts as a failure of the pack" : "Does not count as a failure of the pack",
          },
          ...(replacementRevisionCode === null
            ? []
            : [{ term: "Replaced by revision", detail: replacementRevisionCode }]),
          {
            term: "Decided",
            detail: (
              <>
                {decision.decidedByName}
                {decision.secondByName === null ? "" : ` and ${decision.secondByName}`},{" "}
                <LocalTime at={decision.decidedAt} />
                {decision.proposedByName === null ? "" : `; proposed by ${decision.proposedByName}`}, on version{" "}
                {decision.seenVersion}
              </>
            ),
          },
        ]}
      />
    </section>
  );
}
