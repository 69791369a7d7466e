import { AnswerForm } from "@/app/_components/answer-form";
import { AskedText } from "@/app/_components/asked-fields";
import { namePackAction } from "../actions";

/** For an incident that was told before anybody could name its pack. */
export function NamePackForm({ reference }: { reference: string }) {
  return (
    <AnswerForm action={namePackAction} submit="It is this pack: set it apart">
      <input type="hidden" name="reference" value={reference} />
      <AskedText
        name="serial"
        label="Serial of the pack"
        hint="From papers, or from a photograph taken before. Nobody goes near the pack to read it."
        required
        maxLength={60}
        autoCapitalize="characters"
        className="max-w-72"
      />
    </AnswerForm>
  );
}
