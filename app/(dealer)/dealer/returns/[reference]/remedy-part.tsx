import { FactList } from "@/app/_components/fact-list";
import { SerialText } from "@/app/_components/serial-text";
import { LetterLinks } from "@/app/_remedy/letter-links";
import { LoanPart } from "@/app/_remedy/loan-part";
import { NoticePart } from "@/app/_remedy/notice-part";
import { RemedySteps } from "@/app/_remedy/remedy-steps";
import type { RemedyView } from "@/lib/data/remedies/remedy-view";
import { remedyLabels } from "@/lib/returns/decision.schema";

/** What was promised to the customer, what has been received, what to show before it, and a pack lent meanwhile. */
export function RemedyPart({ remedy }: { remedy: RemedyView }) {
  const { decision, kept, isOpen, prompts, shown } = remedy;
  return (
    <div className="space-y-6">
      {decision === null ? null : (
        <FactList
          facts={[
            { term: "Decided", detail: remedyLabels[decision.remedy] },
            ...(decision.refund === null ? [] : [{ term: "Amount", detail: decision.refund }]),
            ...(kept === null
              ? []
              : [{ term: "Pack kept for the customer", detail: <SerialText>{kept.serialShown}</SerialText> }]),
          ]}
        />
      )}
      <LetterLinks reference={remedy.reference} isDecided={decision !== null} />
      <RemedySteps remedy={remedy} />
      {prompts.length === 0 && shown.length === 0 ? null : (
        <div className="space-y-3">
          <h3>Show this to the customer before a repair or a replacement</h3>
          <NoticePart remedy={remedy} mayRecord={isOpen} />
        </div>
      )}
      {isOpen || remedy.loans.length > 0 ? (
        <div className="space-y-3">
          <h3>A pack to ride meanwhile</h3>
          <LoanPart remedy={remedy} mayLend />
        </div>
      ) : null}
    </div>
  );
}
