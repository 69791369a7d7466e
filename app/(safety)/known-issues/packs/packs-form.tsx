import { Button } from "@/app/_components/button";
import { Field, TextInput } from "@/app/_components/field";
import type { IssuePacks } from "@/lib/packs/issue-proposal";

interface PacksFormProps {
  readonly named: IssuePacks;
  readonly insteadOf: string;
  /** What is wrong with one of the answers; null where nothing is. */
  readonly problem: { readonly field: string; readonly sentence: string } | null;
}

const questions: readonly { name: keyof IssuePacks; label: string; hint: string }[] = [
  { name: "revision", label: "Revision", hint: "For example GW-A. With a lot: only packs that have both." },
  { name: "lot", label: "Lot", hint: "Its code; where two kinds share one, the kind before it: cell CBR-09." },
  { name: "set", label: "Set of packs", hint: "Its number, of a set that is frozen; alone." },
];

/** Asks which packs are meant, and keeps it in the address. Works without script. */
export function PacksForm({ named, insteadOf, problem }: PacksFormProps) {
  return (
    <form action="/known-issues/packs" method="get" className="max-w-xl space-y-4">
      {insteadOf === "" ? null : <input type="hidden" name="insteadOf" value={insteadOf} />}
      {questions.map(({ name, label, hint }) => (
        <Field
          key={name}
          id={`packs-${name}`}
          label={label}
          hint={hint}
          error={problem?.field === name ? problem.sentence : undefined}
        >
          {(wiring) => <TextInput {...wiring} name={name} defaultValue={named[name]} autoComplete="off" />}
        </Field>
      ))}
      <Button type="submit" weight="second">
        Show these packs
      </Button>
    </form>
  );
}
