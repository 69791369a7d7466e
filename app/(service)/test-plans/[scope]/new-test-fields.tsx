import { Field, TextArea, TextInput } from "@/app/_components/field";
import { SelectInput } from "@/app/_components/select-input";
import { instrumentKinds, instrumentKindWords, instrumentUnits } from "@/lib/bench-tests/instrument-kinds";
import { isFilled, type NewTestSlot } from "@/lib/bench-tests/new-test";
import { planField } from "@/lib/bench-tests/plan-proposal";
import { type TestDefinition, testPhases, testPhaseWords } from "@/lib/bench-tests/test-definition.schema";
import { LimitFields } from "./limit-fields";
import { Tick } from "./tick";

interface NewTestFieldsProps {
  readonly slot: NewTestSlot;
  /** What it may come after. */
  readonly tests: readonly TestDefinition[];
  readonly typed: Readonly<Record<string, string>> | null;
  readonly errorOf: (field: string) => string | undefined;
}

/** A wholly new test: what it shows, when and how it is made, what can hurt at it, and what is measured by which limits. */
export function NewTestFields({ slot, tests, typed, errorOf }: NewTestFieldsProps) {
  const name = (part: string) => planField(slot, part);
  const given = (part: string) => typed?.[name(part)] ?? "";
  const words = (part: string, label: string, hint?: string, rows = 2) => (
    <Field id={name(part)} label={label} hint={hint} error={errorOf(name(part))}>
      {(wiring) => <TextArea {...wiring} name={name(part)} rows={rows} defaultValue={given(part)} />}
    </Field>
  );
  const choice = (part: string, label: string, choices: readonly (readonly [string, string])[], hint?: string) => (
    <Field id={name(part)} label={label} hint={hint} error={errorOf(name(part))}>
      {(wiring) => (
        <SelectInput {...wiring} name={name(part)} defaultValue={given(part)}>
          {choices.map(([value, shown]) => (
            <option key={value} value={value}>
              {shown}
            </option>
          ))}
        </SelectInput>
      )}
    </Field>
  );
  const noLimits = { lower: null, upper: null, source: "common-practice", sourceNote: "" } as const;
  return (
    <details className="card" open={typed !== null && isFilled(slot, typed)}>
      <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">
        {slot === "new.1" ? "Add a new test" : "Add another new test"}
      </summary>
      <div className="space-y-4 border-t border-rule p-3">
        <Field id={name("title")} label="Name of the test" error={errorOf(name("title"))}>
          {(wiring) => <TextInput {...wiring} name={name("title")} defaultValue={given("title")} />}
        </Field>
        {words("shows", "What it shows")}
        {choice(
          "phase",
          "When it is made",
          [["", "Choose"], ...testPhases.map((phase) => [phase, testPhaseWords[phase]] as const)],
          "What keeps evidence comes first. What is opened destroys the pack: it comes last and is never mandatory.",
        )}
        {choice("after", "It comes right after", [
          ["", "The last of its kind"],
          ...tests.map(({ key, title }) => [key, title] as const),
        ])}
        {words("method", "How it is made", undefined, 3)}
        {words(
          "caution",
          "Caution: what can hurt at it, and how it is kept from happening",
          "Needed for everything but looking. Local rules and the house’s own come first.",
        )}
        {choice("instrument", "Measured with", [
          ["", "Nothing is measured: somebody looks"],
          ...instrumentKinds.map((kind) => [kind, `${instrumentKindWords[kind]}, ${instrumentUnits[kind]}`] as const),
        ])}
        {words("expected", "Where somebody looks: what a sound pack looks like")}
        <LimitFields
          legend="Where it is measured: limits of a returned pack, in the unit of the instrument"
          part="limits"
          limits={noLimits}
          {...{ name, typed, errorOf }}
        />
        <Tick name={name("mandatory")} label="Mandatory" checked={given("mandatory") !== ""} />
        {errorOf(name("mandatory")) === undefined ? null : (
          <p className="font-semibold text-danger">{errorOf(name("mandatory"))}</p>
        )}
        <Tick name={name("retest")} label="Also part of the re-test after work" checked={given("retest") !== ""} />
        {errorOf(name("retest")) === undefined ? null : (
          <p className="font-semibold text-danger">{errorOf(name("retest"))}</p>
        )}
        <LimitFields
          legend="Where it is measured after work: limits of a new build"
          part="buildLimits"
          limits={noLimits}
          {...{ name, typed, errorOf }}
        />
      </div>
    </details>
  );
}
