import Link from "next/link";
import { FactList } from "@/app/_components/fact-list";
import { LetterLinks } from "@/app/_remedy/letter-links";
import { TimeToObjectLine } from "@/app/_remedy/time-to-object-line";
import type { RemedyView } from "@/lib/data/remedies/remedy-view";
import { whatIsMissingBeforeDecision } from "@/lib/returns/before-decision";
import { sayComesBack } from "@/lib/returns/comes-back";
import { remedyLabels } from "@/lib/returns/decision.schema";
import { sayMoney } from "@/lib/settlement/money";
import { WorkSection } from "../bench-section";

/** What was decided and why; with a refusal its term, evidence, alternatives and the way to object. */
export function PromisedPart({ remedy, seesBench }: { remedy: RemedyView; seesBench: boolean }) {
  const { decision } = remedy;
  if (decision === null)
    return (
      <WorkSection title="Not decided yet">
        <p>
          <strong>Nothing may be promised to the customer yet.</strong> {whatIsMissingBeforeDecision(remedy.status)}
        </p>
        {seesBench ? (
          <p>
            <Link
              href={remedy.status === "under-test" ? `/bench/${remedy.reference}/tests` : `/bench/${remedy.reference}`}
              className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
            >
              {remedy.status === "under-test" ? "Tests and fault" : "Go to the next step"}
            </Link>
          </p>
        ) : null}
        <LetterLinks reference={remedy.reference} isDecided={false} />
      </WorkSection>
    );
  const given = [
    { term: "With revision", detail: decision.revisionCode },
    { term: "Amount in all", detail: decision.refund },
    ...refundLines(remedy),
    {
      term: "What comes back of what was given before",
      detail: decision.comesBack === null ? null : (sayComesBack(decision) ?? null),
    },
    { term: "Term the refusal rests on", detail: decision.refusalTerm },
    { term: "Evidence", detail: decision.refusalEvidence },
    { term: "Other explanations looked at", detail: decision.refusalAlternatives },
  ].flatMap(({ term, detail }) => (detail === null ? [] : [{ term, detail }]));
  return (
    <WorkSection title={`Decided: ${remedyLabels[decision.remedy]}`}>
      <LetterLinks reference={remedy.reference} isDecided />
      <p dir="auto" className="whitespace-pre-line">
        {decision.reason}
      </p>
      {given.length === 0 ? null : <FactList columns={1} facts={given} />}
      <TimeToObjectLine time={remedy.timeToObject} whose="the-dealers" />
    </WorkSection>
  );
}

/** Beside a refund that was paid in part before: what the customer has, and what is left. */
function refundLines({ facts: { refundOwed: owed } }: RemedyView) {
  if (owed === null || (owed.kind === "owed" && owed.paidMinor === 0)) return [];
  if (owed.kind === "other-currency")
    return [{ term: "Paid before", detail: sayMoney(owed.paid.minor, owed.paid.currency) }];
  return [
    { term: "Paid before", detail: sayMoney(owed.paidMinor, owed.currency) },
    { term: "Still to pay", detail: sayMoney(owed.minor, owed.currency) },
  ];
}
