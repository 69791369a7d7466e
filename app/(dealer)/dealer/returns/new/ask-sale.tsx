import { ChoiceList } from "@/app/_components/choice-list";
import { saleEvidenceLabels, saleEvidences } from "@/lib/returns/sale-evidence";
import { DateField } from "./date-field";
import { useAnswerForm } from "./use-answer-form";

interface AskSaleProps {
  readonly today: string | undefined;
  /** The pack in hand came in place of another, whose sale it is that counts. */
  readonly cameAsReplacement: boolean;
}

export function AskSale({ today, cameAsReplacement }: AskSaleProps) {
  const { register, errorOf } = useAnswerForm();
  return (
    <>
      <p>
        {cameAsReplacement
          ? "This pack came in place of another, and nobody has recorded the sale of the first one yet. The cover counts from the day the customer got the first pack."
          : "Nobody has recorded the sale of this pack yet. The cover counts from the day the customer got it."}
      </p>
      <DateField
        answer="soldOnStated"
        label={cameAsReplacement ? "Day the customer got the first pack" : "Day the customer got the pack"}
        hint="Leave it empty if nobody knows. A proof can be added later on the page of the return, and the answer on cover is then given anew."
        today={today}
      />
      <ChoiceList
        id="soldOnEvidence"
        type="radio"
        legend="How do you know?"
        hint="Needed only with a day."
        error={errorOf("soldOnEvidence")}
        choices={saleEvidences.map((value) => ({ value, label: saleEvidenceLabels[value] }))}
        control={register("soldOnEvidence")}
      />
    </>
  );
}
