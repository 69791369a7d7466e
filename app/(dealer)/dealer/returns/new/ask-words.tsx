import { useWatch } from "react-hook-form";
import { Field, TextArea } from "@/app/_components/field";
import { AskedOfSigns } from "@/app/_components/signs-question";
import type { LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { askWhetherTicked } from "@/lib/safety/signs-in-words";
import { useAnswerForm } from "./use-answer-form";

export function AskWords() {
  const { register, errorOf } = useAnswerForm();
  const [concern, signs] = useWatch<LodgeReturnInput, ["concern", "dangerSigns"]>({ name: ["concern", "dangerSigns"] });
  return (
    <>
      <Field
        id="concern"
        label="In the customer's own words"
        hint="Any language. Write or dictate what they say, not what you think it is. Leave names and telephone numbers out."
        error={errorOf("concern")}
      >
        {(wiring) => <TextArea {...register("concern")} {...wiring} rows={6} dir="auto" />}
      </Field>
      <AskedOfSigns question={askWhetherTicked(concern ?? "", signs ?? [], "return")} />
    </>
  );
}
