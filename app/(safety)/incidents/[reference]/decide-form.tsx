import { AnswerForm } from "@/app/_components/answer-form";
import { AskedChoices, AskedLong, AskedText } from "@/app/_components/asked-fields";
import { reportingDecisionLabels, reportingDecisions } from "@/lib/safety/incident-decision";
import { decideAction } from "../actions";

interface DecideFormProps {
  readonly reference: string;
  readonly clockId: string;
  readonly seenEntries: number;
}

/** One decision on one clock, with its reason and the advice it rests on. */
export function DecideForm({ reference, clockId, seenEntries }: DecideFormProps) {
  const id = (field: string) => `${clockId}-${field}`;
  return (
    <AnswerForm action={decideAction} submit="Keep this decision in my name">
      <input type="hidden" name="reference" value={reference} />
      <input type="hidden" name="clockId" value={clockId} />
      <input type="hidden" name="seenEntries" value={seenEntries} />
      <AskedChoices
        name="decision"
        id={id("decision")}
        type="radio"
        legend="What was decided"
        choices={reportingDecisions.map((value) => ({ value, label: reportingDecisionLabels[value] }))}
        control={{ required: true }}
      />
      <AskedText
        name="until"
        id={id("until")}
        label="Investigation until"
        hint="Only where more is investigated."
        type="date"
      />
      <AskedLong name="reason" id={id("reason")} label="Reason" required />
      <AskedText
        name="lawyerReference"
        id={id("lawyer")}
        label="Lawyer, and the letter or file with the advice"
        required
        maxLength={300}
      />
    </AnswerForm>
  );
}
