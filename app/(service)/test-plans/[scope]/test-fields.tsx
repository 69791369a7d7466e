import { Field, TextArea, TextInput } from "@/app/_components/field";
import { SelectInput } from "@/app/_components/select-input";
import { planField } from "@/lib/bench-tests/plan-proposal";
import {
  limitSources,
  limitSourceWords,
  type TestDefinition,
  type TestLimits,
  testPhaseWords,
} from "@/lib/bench-tests/test-definition.schema";

interface TestFieldsProps {
  readonly test: TestDefinition;
  /** What was typed before the server refused; null at first. */
  readonly typed: Readonly<Record<string, string>> | null;
  readonly errorOf: (field: string) => string | undefined;
}

/** What of one test a new version may change. A test with a problem stands open. */
export function TestFields({ test, typed, errorOf }: TestFieldsProps) {
  const { key, title, phase, isMandatory, isDestructive, reading } = test;
  const name = (part: string) => planField(key, part);
  const isTicked = (part: string, before: boolean) => (typed === null ? before : typed[name(part)] !== undefined);
  const sides = ["limits", "buildLimits"] as const;
  const hasProblem = sides.some((part) =>
    ["lower", "upper", "sourceNote"].some((side) => errorOf(name(`${part}.${side}`)) !== undefined),
  );
  return (
    <details className="card" open={hasProblem || errorOf(name("method")) !== undefined}>
      <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">
        {title} <span className="font-normal text-soft">({testPhaseWords[phase].toLowerCase()})</span>
      </summary>
      <div className="space-y-4 border-t border-rule p-3">
        {isDestructive ? null : (
          <Tick name={name("mandatory")} label="Mandatory" checked={isTicked("mandatory", isMandatory)} />
        )}
        <Tick name={name("leave-out")} label="Leave this test out of the plan" checked={isTicked("leave-out", false)} />
        {reading.kind === "look" ? null : (
          <>
            <LimitFields
              legend={`Limits of a returned pack, ${reading.unit}`}
              part="limits"
              limits={reading.limits}
              {...{ name, typed, errorOf }}
            />
            {reading.buildLimits === null ? null : (
              <LimitFields
                legend={`Limits after work, ${reading.unit}`}
                part="buildLimits"
                limits={reading.buildLimits}
                {...{ name, typed, errorOf }}
              />
            )}
          </>
        )}
        <Field id={name("method")} label="How it is made" error={errorOf(name("method"))}>
          {(wiring) => (
            <TextArea
              {...wiring}
              name={name("method")}
              rows={3}
              defaultValue={typed?.[name("method")] ?? test.method}
            />
          )}
        </Field>
        <Field id={name("caution")} label="Caution">
          {(wiring) => (
            <TextArea
              {...wiring}
              name={name("caution")}
              rows={2}
              defaultValue={typed?.[name("caution")] ?? test.caution}
            />
          )}
        </Field>
      </div>
    </details>
  );
}

function Tick({ name, label, checked }: { name: string; label: string; checked: boolean }) {
  return (
    <label className="flex min-h-11 cursor-pointer items-center gap-3">
      <input type="checkbox" name={name} defaultChecked={checked} className="size-6 shrink-0 accent-accent" />
      <span>{label}</span>
    </label>
  );
}

interface LimitFieldsProps extends Omit<TestFieldsProps, "test"> {
  readonly legend: string;
  readonly part: "limits" | "buildLimits";
  readonly limits: TestLimits;
  readonly name: (part: string) => string;
}

function LimitFields({ legend, part, limits, name, typed, errorOf }: LimitFieldsProps) {
  const field = (side: "lower" | "upper" | "source" | "sourceNote") => name(`${part}.${side}`);
  const given = (side: "lower" | "upper" | "source" | "sourceNote") =>
    typed?.[field(side)] ?? String(limits[side] ?? "");
  return (
    <fieldset className="space-y-3 border-l-4 border-rule pl-3">
      <legend className="font-semibold">{legend}</legend>
      <div className="grid gap-3 sm:grid-cols-2">
        {(["lower", "upper"] as const).map((side) => (
          <Field
            key={side}
            id={field(side)}
            label={side === "lower" ? "Lower, or empty" : "Upper, or empty"}
            error={errorOf(field(side))}
          >
            {(wiring) => <TextInput {...wiring} name={field(side)} inputMode="decimal" defaultValue={given(side)} />}
          </Field>
        ))}
      </div>
      <Field id={field("source")} label="Where the limit comes from">
        {(wiring) => (
          <SelectInput {...wiring} name={field("source")} defaultValue={given("source")}>
            {limitSources.map((source) => (
              <option key={source} value={source}>
                {limitSourceWords[source]}
              </option>
            ))}
          </SelectInput>
        )}
      </Field>
      <Field id={field("sourceNote")} label="Which one, or why this number" error={errorOf(field("sourceNote"))}>
        {(wiring) => <TextInput {...wiring} name={field("sourceNote")} defaultValue={given("sourceNote")} />}
      </Field>
    </fieldset>
  );
}
