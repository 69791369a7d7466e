import { ChoiceList } from "@/app/_components/choice-list";
import { saleEvidenceLabels, saleEvidences } from "@/lib/returns/sale-evidence";
import { DateField } from "./date-field";
import { useAnswerForm } from "./use-answer-form";

export function AskSale({ today }: { today: string | undefined }) {
  const { register, errorOf } = useAnswerForm();
  return (
    <>
      <p>Nobody has recorded the sale of this pack yet. The cover counts from the day the customer got it.</p>
      <DateField
        answer="soldOnStated"
        label="Day the customer got the pack"
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
