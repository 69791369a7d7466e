import { AnswerForm } from "@/app/_components/answer-form";
import { Field, TextArea, TextInput } from "@/app/_components/field";
import { confirmRulesAction } from "./actions";

/** The adviser has no account: the safety officer records who compared these sentences, and with what. */
export function ConfirmForm({ fingerprint }: { fingerprint: string }) {
  return (
    <AnswerForm action={confirmRulesAction} submit="Record the confirmation">
      <input type="hidden" name="fingerprint" value={fingerprint} />
      <Field id="adviser" label="Name of the adviser">
        {(wiring) => <TextInput {...wiring} name="adviserName" required />}
      </Field>
      <Field id="qualification" label="Certificate, and until when it holds">
        {(wiring) => <TextInput {...wiring} name="adviserQualification" required />}
      </Field>
      <Field id="statement" label="What was compared and confirmed, and where that is filed">
        {(wiring) => <TextArea {...wiring} name="statement" required />}
      </Field>
    </AnswerForm>
  );
}
