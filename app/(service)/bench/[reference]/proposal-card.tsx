import { FactList } from "@/app/_components/fact-list";
import { labelOf } from "@/app/_components/label-of";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { sayComesBack } from "@/lib/returns/comes-back";
import { remedyLabels, sayConfirmedFault } from "@/lib/returns/decision.schema";
import { secondPersonWords } from "@/lib/returns/second-person";
import { sayMoney } from "@/lib/settlement/money";

interface ProposalCardProps {
  readonly proposal: NonNullable<BenchReturn["next"]["proposal"]>;
  readonly wasDecidedBefore: boolean;
}

/** The decision that waits for approval: what, why, by whom, and who has to agree. */
export function ProposalCard({ proposal, wasDecidedBefore }: ProposalCardProps) {
  const { decision, proposedByName, firstApprovalByName, secondPerson } = proposal;
  const money =
    decision.refundMinor === undefined
      ? []
      : [{ term: "Amount", detail: sayMoney(decision.refundMinor, decision.refundCurrency ?? "") }];
  const refusal = [
    { term: "What comes back of what was given before", detail: sayComesBack(decision) },
    { term: "Term relied on", detail: decision.refusalTerm },
    { term: "Evidence", detail: decision.refusalEvidence },
    { term: "Other explanations looked at", detail: decision.refusalAlternatives },
    { term: "Refused without photographs and pack, because", detail: decision.refusedUnseenBecause },
  ].flatMap(({ term, detail }) => (detail === undefined ? [] : [{ term, detail }]));
  return (
    <section aria-labelledby="proposal-title" className="border-2 border-dashed border-accent bg-raised">
      <div className="p-4">
        <h3 id="proposal-title" tabIndex={-1} className="text-lg focus:outline-none">
          Proposed: {labelOf(remedyLabels, decision.remedy)}
        </h3>
        <p dir="auto" className="mt-1 whitespace-pre-line">
          {decision.reason}
        </p>
        {secondPerson.length === 0 ? null : (
          <div className="mt-2">
            <p className="font-semibold">Two people have to approve it:</p>
            <ul className="list-disc pl-5">
              {secondPerson.map((why) => (
                <li key={why}>{secondPersonWords[why]}</li>
              ))}
            </ul>
            {wasDecidedBefore ? (
              <p>The first to approve had no part in the decision before. The second may have had one.</p>
            ) : null}
          </div>
        )}
      </div>
      <FactList
        columns={1}
        facts={[
          {
            term: "Fault found",
            detail: sayConfirmedFault(decision.confirmedFault),
          },
          ...(decision.replacementRevisionCode === undefined
            ? []
            : [{ term: "With revision", detail: decision.replacementRevisionCode }]),
          ...money,
          ...(decision.isGoodwill ? [{ term: "Goodwill", detail: "Given although it is not owed" }] : []),
          ...refusal,
          { term: "Proposed by", detail: proposedByName },
          ...(firstApprovalByName === null
            ? []
            : [{ term: "Approved by", detail: `${firstApprovalByName}; a second person is still to approve` }]),
        ]}
      />
    </section>
  );
}
