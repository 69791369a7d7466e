import { AnswerForm } from "@/app/_components/answer-form";
import { AskedLong, AskedText } from "@/app/_components/asked-fields";
import { confirmRulesAction } from "./actions";

/** The adviser has no account: the safety officer records who compared these sentences, and with what. */
export function ConfirmForm({ fingerprint }: { fingerprint: string }) {
  return (
    <AnswerForm action={confirmRulesAction} submit="Record the confirmation">
      <input type="hidden" name="fingerprint" value={fingerprint} />
      <AskedText name="adviserName" id="adviser" label="Name of the adviser" required />
      <AskedText name="adviserQualification" id="qualification" label="Certificate, and until when it holds" required />
      <AskedLong name="statement" label="What was compared and confirmed, and where that is filed" required />
    </AnswerForm>
  );
}
