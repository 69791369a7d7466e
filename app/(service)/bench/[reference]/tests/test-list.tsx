import { testPhases, testPhaseWords } from "@/lib/bench-tests/test-definition.schema";
import type { BenchTestPage } from "@/lib/data/bench-tests/bench-test-page";
import { BenchSection } from "../bench-section";
import { TestCard } from "./test-card";

interface TestListProps {
  readonly page: BenchTestPage;
  readonly planId: string;
  readonly mayTest: boolean;
}

/** The tests by phase; the first open one that may be made stands with its form open. */
export function TestList({ page, planId, mayTest }: TestListProps) {
  const { tests, instruments, reference } = page;
  const next = tests.find(
    ({ state, stop, test }) => ["open", "in-doubt"].includes(state.kind) && stop === null && test.isMandatory,
  );
  return (
    <div className="space-y-8">
      {testPhases.map((phase) => {
        const inPhase = tests.filter(({ test }) => test.phase === phase);
        return inPhase.length === 0 ? null : (
          <BenchSection key={phase} title={testPhaseWords[phase]}>
            {inPhase.map((view) => (
              <TestCard
                key={view.test.key}
                view={view}
                reference={reference}
                planId={planId}
                instruments={instruments}
                mayTest={mayTest}
                isNext={view === next}
              />
            ))}
          </BenchSection>
        );
      })}
    </div>
  );
}
