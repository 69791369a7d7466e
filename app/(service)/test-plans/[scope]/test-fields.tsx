import { Field, TextArea } from "@/app/_components/field";
import { planField } from "@/lib/bench-tests/plan-proposal";
import { type TestDefinition, testPhaseWords } from "@/lib/bench-tests/test-definition.schema";
import { LimitFields } from "./limit-fields";
import { Tick } from "./tick";

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
