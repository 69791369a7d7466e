import { Field, TextArea } from "@/app/_components/field";
import { useAnswerForm } from "./use-answer-form";

export function AskWords() {
  const { register, errorOf } = useAnswerForm();
  return (
    <Field
      id="concern"
      label="In the customer's own words"
      hint="Any language. Write or dictate what they say, not what you think it is. Leave names and telephone numbers out."
      error={errorOf("concern")}
    >
      {(wiring) => <TextArea {...register("concern")} {...wiring} rows={6} dir="auto" />}
    </Field>
  );
}
