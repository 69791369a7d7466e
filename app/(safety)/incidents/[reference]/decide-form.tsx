import { AnswerForm } from "@/app/_components/answer-form";
import { ChoiceList } from "@/app/_components/choice-list";
import { Field, TextArea, TextInput } from "@/app/_components/field";
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
      <ChoiceList
        id={id("decision")}
        type="radio"
        legend="What was decided"
        choices={reportingDecisions.map((value) => ({ value, label: reportingDecisionLabels[value] }))}
        control={{ name: "decision", required: true }}
      />
      <Field id={id("until")} label="Investigation until" hint="Only where more is investigated.">
        {(wiring) => <TextInput {...wiring} name="until" type="date" />}
      </Field>
      <Field id={id("reason")} label="Reason">
        {(wiring) => <TextArea {...wiring} name="reason" required />}
      </Field>
      <Field id={id("lawyer")} label="Lawyer, and the letter or file with the advice">
        {(wiring) => <TextInput {...wiring} name="lawyerReference" required maxLength={300} />}
      </Field>
    </AnswerForm>
  );
}
