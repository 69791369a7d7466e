import { AnswerForm } from "@/app/_components/answer-form";
import { Field, TextInput } from "@/app/_components/field";
import { namePackAction } from "../actions";

/** For an incident that was told before anybody could name its pack. */
export function NamePackForm({ reference }: { reference: string }) {
  return (
    <AnswerForm action={namePackAction} submit="It is this pack: set it apart">
      <input type="hidden" name="reference" value={reference} />
      <Field
        id="serial"
        label="Serial of the pack"
        hint="From papers, or from a photograph taken before. Nobody goes near the pack to read it."
      >
        {(wiring) => (
          <TextInput
            {...wiring}
            name="serial"
            required
            maxLength={60}
            autoCapitalize="characters"
            className="max-w-72"
          />
        )}
      </Field>
    </AnswerForm>
  );
}
