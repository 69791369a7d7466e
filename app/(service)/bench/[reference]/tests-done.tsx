import { Field, TextInput } from "@/app/_components/field";
import { SelectInput } from "@/app/_components/select-input";
import type { StatedFacts } from "@/lib/returns/return-facts";

interface TestsDoneProps {
  readonly stated: StatedFacts;
  readonly onChange: (stated: StatedFacts) => void;
  readonly testsError: string | undefined;
  readonly becauseError: string | undefined;
}

/** Whether the tests that must be done were done, or why one was not: stands in the history with the proposal. */
export function TestsDone({ stated, onChange, testsError, becauseError }: TestsDoneProps) {
  return (
    <div className="space-y-4">
      <Field id="tests-done" label="The tests that have to be done" error={testsError}>
        {(wiring) => (
          <SelectInput
            {...wiring}
            name="tests"
            value={stated.tests ?? ""}
            onChange={({ target }) => onChange(chosen(target.value))}
          >
            <option value="">Choose</option>
            <option value="done">All done</option>
            <option value="waived">One or more left out, with a reason</option>
          </SelectInput>
        )}
      </Field>
      {stated.tests === "waived" ? (
        <Field id="tests-waived" label="Why was it left out?" error={becauseError}>
          {(wiring) => (
            <TextInput
              {...wiring}
              name="testsWaivedBecause"
              maxLength={500}
              value={stated.testsWaivedBecause ?? ""}
              onChange={({ target }) => onChange({ tests: "waived", testsWaivedBecause: target.value })}
            />
          )}
        </Field>
      ) : null}
    </div>
  );
}

function chosen(value: string): StatedFacts {
  return value === "done" || value === "waived" ? { tests: value } : {};
}
