import { type Column, DataTable } from "@/app/_components/data-table";
import { LocalTime } from "@/app/_components/local-time";
import { QuestionForm } from "@/app/_components/question-form";
import { limitsFor } from "@/lib/bench-tests/test-definition.schema";
import type { TestStanding } from "@/lib/bench-tests/test-standing";
import { sayLimits, verdictWords } from "@/lib/bench-tests/verdict";
import type { WorkPage } from "@/lib/data/bench-tests/work-page";
import { WorkSection } from "../bench-section";
import { recordResultAction } from "../tests/actions";
import { resultQuestions } from "../tests/result-questions";
import { releaseAction } from "./actions";

const columns: Column<TestStanding>[] = [
  { head: "Test", cell: ({ test }) => test.title },
  { head: "Limits of a new build", cell: ({ test }) => sayLimitsOf(test) },
  {
    head: "After the last work",
    cell: ({ state }) =>
      state.kind === "in-doubt" ? (
        <strong className="text-warn">{verdictWords[state.verdict]}, in doubt: measure again</strong>
      ) : state.kind !== "done" ? (
        <strong>Not tested yet</strong>
      ) : state.verdict === "inside" ? (
        verdictWords.inside
      ) : (
        <strong className="text-danger">{verdictWords[state.verdict]}</strong>
      ),
  },
];

/** The forms of the re-test, each folded; a result is judged by the limits of a new build. */
function RetestForms({ page }: { page: WorkPage }) {
  const { retest, instruments, reference } = page;
  if (retest === null) return null;
  return retest.standings
    .filter(({ test }) => test.isRetest)
    .map(({ test, state }) => (
      <details key={test.key} className="card">
        <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">
          {state.kind === "open" ? "Write the result: " : "Make again: "}
          {test.title}
        </summary>
        <div className="space-y-3 border-t border-rule p-3">
          <p>{test.method}</p>
          {test.caution === "" ? null : <p className="font-semibold text-warn">{test.caution}</p>}
          <QuestionForm
            id={`retest-${test.key}`}
            action={recordResultAction}
            hidden={{ reference, planId: retest.planId, testKey: test.key, purpose: "retest" }}
            questions={resultQuestions(test, instruments)}
            button="Keep the result"
          />
        </div>
      </details>
    ));
}

/** The re-test by the limits of a new build, and the signature of somebody who did none of the work. */
export function ReleasePart({ page, mayRelease }: { page: WorkPage; mayRelease: boolean }) {
  const { retest, release, whyNot, reference, isDecided, isInWork } = page;
  return (
    <WorkSection title="2. Re-test and release">
      {retest === null ? (
        <p className="text-soft">
          {isDecided
            ? "No approved test plan holds for this pack."
            : "Nothing is decided for this pack yet, so no work is done on it that it could be tested after."}
        </p>
      ) : (
        <DataTable
          entriesWhenNarrow
          caption={`Tests after work, by version ${retest.planVersion} of the plan`}
          columns={columns}
          rows={retest.standings.filter(({ test }) => test.isRetest)}
          rowKey={({ test }) => test.key}
          whenEmpty="The plan names no test for the time after work."
        />
      )}
      {mayRelease && isInWork && release === null ? <RetestForms page={page} /> : null}
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
      ) : mayRelease && isInWork ? (
        <QuestionForm
          id="release"
          action={releaseAction}
          hidden={{ reference }}
          questions={[{ name: "signature", label: "I did none of this work and release the pack (full name)" }]}
          button="Release the pack"
        />
      ) : null}
    </WorkSection>
  );
}

function sayLimitsOf(test: TestStanding["test"]): string {
  const limits = limitsFor(test, "retest");
  if (limits === null) return test.reading.kind === "look" ? test.reading.expected : "None";
  const unit = test.reading.kind === "number" ? test.reading.unit : "";
  return sayLimits(limits, unit);
}
