import { type Column, DataTable } from "@/app/_components/data-table";
import { LocalTime } from "@/app/_components/local-time";
import { QuestionForm } from "@/app/_components/question-form";
import { limitsFor } from "@/lib/bench-tests/test-definition.schema";
import type { TestStanding } from "@/lib/bench-tests/test-standing";
import { verdictWords } from "@/lib/bench-tests/verdict";
import type { WorkPage } from "@/lib/data/work-page";
import { BenchSection } from "../bench-section";
import { releaseAction } from "./actions";

const columns: Column<TestStanding>[] = [
  { head: "Test", cell: ({ test }) => test.title },
  { head: "Limits of a new build", cell: ({ test }) => sayLimits(test) },
  {
    head: "After the last work",
    cell: ({ state }) =>
      state.kind !== "done" ? (
        <strong>Not tested yet</strong>
      ) : state.verdict === "inside" ? (
        verdictWords.inside
      ) : (
        <strong className="text-danger">{verdictWords[state.verdict]}</strong>
      ),
  },
];

/** The re-test by the limits of a new build, and the signature of somebody who did none of the work. */
export function ReleasePart({ page, mayRelease }: { page: WorkPage; mayRelease: boolean }) {
  const { retest, release, whyNot, reference, isInWork } = page;
  return (
    <BenchSection title="2. Re-test and release">
      {retest === null ? (
        <p className="text-soft">No approved test plan holds for this pack.</p>
      ) : (
        <DataTable
          caption={`Tests after work, by version ${retest.planVersion} of the plan`}
          columns={columns}
          rows={retest.standings.filter(({ test }) => test.isRetest)}
          rowKey={({ test }) => test.key}
          whenEmpty="The plan names no test for the time after work."
        />
      )}
      {release !== null ? (
        <p className="font-semibold text-good">
          Released by {release.signature} ({release.byName}), <LocalTime at={release.at} />.
        </p>
      ) : whyNot !== null ? (
        isInWork ? (
          <p className="border-l-4 border-edge bg-raised px-3 py-2">
            <strong>Not released:</strong> {whyNot.sentence}
          </p>
        ) : null
      ) : mayRelease ? (
        <QuestionForm
          id="release"
          action={releaseAction}
          hidden={{ reference }}
          questions={[{ name: "signature", label: "I did none of this work and release the pack (full name)" }]}
          button="Release the pack"
        />
      ) : null}
    </BenchSection>
  );
}

function sayLimits(test: TestStanding["test"]): string {
  const limits = limitsFor(test, "retest");
  if (limits === null) return test.reading.kind === "look" ? test.reading.expected : "None";
  const unit = test.reading.kind === "number" ? test.reading.unit : "";
  const { lower, upper } = limits;
  if (lower === null) return `at most ${upper} ${unit}`;
  return upper === null ? `at least ${lower} ${unit}` : `${lower} to ${upper} ${unit}`;
}
