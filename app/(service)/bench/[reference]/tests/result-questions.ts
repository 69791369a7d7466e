import type { FormQuestion } from "@/app/_components/question-form";
import type { TestDefinition } from "@/lib/bench-tests/test-definition.schema";
import { seenChoices, seenWords } from "@/lib/bench-tests/verdict";
import type { InstrumentChoice } from "@/lib/data/bench-tests/bench-test-page";

const chooseFirst = { value: "", label: "Choose" };

/** What the form of a test asks. Nothing is filled in beforehand: a number that nobody read off proves nothing. */
export function resultQuestions(test: TestDefinition, instruments: readonly InstrumentChoice[]): FormQuestion[] {
  const leave: FormQuestion[] = test.isDestructive
    ? [
        {
          name: "leaveToDestroy",
          label: "Who allowed it to be destroyed, and when",
          hint: "It is the customer's until it was replaced.",
        },
      ]
    : [];
  return [...leave, ...ofReading(test, instruments), { name: "note", label: "Note", kind: "long" }];
}

function ofReading({ reading }: TestDefinition, instruments: readonly InstrumentChoice[]): FormQuestion[] {
  if (reading.kind === "look") {
    const choices = [chooseFirst, ...seenChoices.map((value) => ({ value, label: seenWords[value] }))];
    return [{ name: "seen", label: "What you saw", choices }];
  }
  const { unit } = reading;
  const fitting = instruments.filter(({ kind }) => kind === reading.instrument);
  return [
    { name: "value", label: `Value, ${unit}`, kind: "decimal" },
    {
      name: "instrument",
      label: "Measured with",
      ...(fitting.length === 0 ? { hint: "No instrument of this kind is written down yet." } : {}),
      // One that is out of calibration can be chosen, so that its refusal says why.
      choices: [
        chooseFirst,
        ...fitting.map(({ code, description, whyNot }) => ({
          value: code,
          label: `${code}, ${description}${whyNot === null ? "" : " (not to be used)"}`,
        })),
      ],
    },
    {
      name: "expandedUncertainty",
      label: `Uncertainty, ${unit}`,
      hint: "Empty for the instrument's own. Larger where the method adds to it.",
      kind: "decimal",
    },
    { name: "ambientC", label: "Temperature of the room, °C", hint: "May be left empty.", kind: "decimal" },
  ];
}
