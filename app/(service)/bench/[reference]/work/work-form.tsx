import { QuestionForm } from "@/app/_components/question-form";
import { operationNames, workOperations } from "@/lib/repair/operations";
import { recordWorkAction } from "./actions";

/** One piece of work. What the operation does not ask for stays empty; the answer names the field that has to be looked at. */
export function WorkForm({ reference }: { reference: string }) {
  return (
    <QuestionForm
      id="work"
      action={recordWorkAction}
      hidden={{ reference }}
      questions={[
        {
          name: "operation",
          label: "What was done?",
          choices: [
            { value: "", label: "Choose" },
            ...operationNames.map((value) => ({ value, label: workOperations[value].label })),
          ],
        },
        { name: "groups", label: "Groups", hint: "By their numbers from the negative end, such as 7 or 7, 8." },
        { name: "lotCode", label: "Lot of the part that went in", hint: "As printed on the bag." },
        {
          name: "resistanceMilliohm",
          label: "Resistance after the work, mΩ",
          hint: "One for each group named, parted by a semicolon.",
        },
        { name: "identity", label: "Identity of the new board" },
        { name: "firmware", label: "Firmware it has now" },
        { name: "minutes", label: "Minutes it took", kind: "number" },
        {
          name: "note",
          label: "What was taken out, and what you saw",
          hint: "With a board: what its counters stood at, and whether they were carried over.",
          kind: "long",
        },
      ]}
      button="Record this work"
    />
  );
}
