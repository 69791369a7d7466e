import { instrumentKindWords } from "@/lib/bench-tests/instrument-kinds";
import {
  limitSourceWords,
  type TestDefinition,
  type TestLimits,
  testPhases,
  testPhaseWords,
} from "@/lib/bench-tests/test-definition.schema";
import { sayLimits } from "@/lib/bench-tests/verdict";

/** The tests of a version in their order, with limits and where those come from. */
export function PlanTests({ tests }: { tests: readonly TestDefinition[] }) {
  return (
    <div className="space-y-5">
      {testPhases.map((phase) => {
        const inPhase = tests.filter((test) => test.phase === phase);
        return inPhase.length === 0 ? null : (
          <div key={phase} className="space-y-3">
            <h4 className="caption-print">{testPhaseWords[phase]}</h4>
            {inPhase.map((test) => (
              <div key={test.key} className="border-l-4 border-rule pl-3">
                <p>
                  <strong>{test.title}</strong>
                  {test.isMandatory ? ", mandatory" : ""}
                  {test.isDestructive ? ", destroys the pack" : ""}
                </p>
                <p className="text-sm">{test.shows}</p>
                <ReadingLines test={test} />
                <p className="text-sm">{test.method}</p>
                {test.caution === "" ? null : <p className="text-sm font-semibold text-warn">{test.caution}</p>}
              </div>
            ))}
          </div>
        );
      })}
    </div>
  );
}

function ReadingLines({ test: { reading } }: { test: TestDefinition }) {
  if (reading.kind === "look") return <p className="text-sm">As it should be: {reading.expected}</p>;
  const { limits, buildLimits, unit, instrument } = reading;
  return (
    <>
      <p className="text-sm">
        Returned pack: {said(limits, unit)}. With: {instrumentKindWords[instrument].toLowerCase()}.
      </p>
      {buildLimits === null ? null : <p className="text-sm">After work: {said(buildLimits, unit)}.</p>}
    </>
  );
}

function said(limits: TestLimits, unit: string): string {
  return `${sayLimits(limits, unit)} (${limitSourceWords[limits.source].toLowerCase()}: ${limits.sourceNote})`;
}
