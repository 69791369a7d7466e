import { Field, TextInput } from "@/app/_components/field";
import { SelectInput } from "@/app/_components/select-input";
import { limitSources, limitSourceWords, type TestLimits } from "@/lib/bench-tests/test-definition.schema";

interface LimitFieldsProps {
  readonly legend: string;
  readonly part: "limits" | "buildLimits";
  readonly limits: TestLimits;
  /** Name of a field of the test on the form. */
  readonly name: (part: string) => string;
  /** What was typed before the server refused; null at first. */
  readonly typed: Readonly<Record<string, string>> | null;
  readonly errorOf: (field: string) => string | undefined;
}

/** The limits of a test from both sides, and where they come from. */
export function LimitFields({ legend, part, limits, name, typed, errorOf }: LimitFieldsProps) {
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
