import { TriangleAlert } from "lucide-react";
import { QuestionForm } from "@/app/_components/question-form";
import { Stamp } from "@/app/_components/status-line";
import { instrumentKindWords } from "@/lib/bench-tests/instrument-kinds";
import { planTestCaution } from "@/lib/bench-tests/next-test-caution";
import { limitSourceWords, type TestDefinition } from "@/lib/bench-tests/test-definition.schema";
import { sayLimits } from "@/lib/bench-tests/verdict";
import type { BenchTestView, InstrumentChoice } from "@/lib/data/bench-tests/bench-test-page";
import { recordResultAction, waiveTestAction } from "./actions";
import { ResultLines } from "./result-lines";
import { resultQuestions } from "./result-questions";
import { stampOf } from "./test-words";

interface TestCardProps {
  readonly view: BenchTestView;
  readonly reference: string;
  readonly planId: string;
  readonly instruments: readonly InstrumentChoice[];
  readonly mayTest: boolean;
  /** The next one to make: its form stands open. */
  readonly isNext: boolean;
}

/** One test, folded to its name and standing: what it shows, how it is made, what it gave, and its form. */
export function TestCard({ view, reference, planId, instruments, mayTest, isNext }: TestCardProps) {
  const { test, state, stop, results, waivers, built, readings } = view;
  const { word, tone } = stampOf(state);
  const caution = planTestCaution(test);
  const hidden = { reference, planId, testKey: test.key };
  const questions = resultQuestions(test, instruments);
  const correctable = state.kind === "done" ? state.resultId : null;
  return (
    <article aria-label={test.title}>
      <details className="card" id={test.key} open={isNext}>
        <summary className="flex min-h-12 cursor-pointer flex-wrap items-center gap-x-3 gap-y-1 px-4 py-2">
          <span className="font-bold">{test.title}</span>
          <Stamp tone={tone}>{word}</Stamp>
          {test.isMandatory ? <span className="text-sm font-semibold">Mandatory</span> : null}
          {test.isDestructive ? <span className="text-sm font-semibold text-danger">Destroys the pack</span> : null}
        </summary>
        <div className="space-y-3 border-t border-rule p-4">
          <p>{test.shows}</p>
          {caution === "" ? null : (
            <p className="flex items-start gap-2 text-sm font-semibold text-warn">
              <TriangleAlert aria-hidden size={18} className="mt-0.5 shrink-0" />
              <span>
                <span className="sr-only">Caution: </span>
                {caution}
              </span>
            </p>
          )}
          <LimitLine test={test} />
          <details>
            <summary className="flex min-h-11 cursor-pointer items-center font-semibold">How it is made</summary>
            <p>{test.method}</p>
          </details>
          {built === null && readings.length === 0 ? null : (
            <dl className="text-sm">
              {built === null ? null : (
                <div>
                  <dt className="inline font-semibold">As built: </dt>
                  <dd className="inline">{built}</dd>
                </div>
              )}
              {readings.length === 0 ? null : (
                <div>
                  <dt className="font-semibold">In the readings, under their own conditions:</dt>
                  {readings.map((line) => (
                    <dd key={line}>{line}</dd>
                  ))}
                </div>
              )}
            </dl>
          )}
          <ResultLines results={results} waivers={waivers} />
          {!mayTest ? null : stop !== null ? (
            <p className="border-l-4 border-edge bg-raised px-3 py-2 text-sm">{stop}</p>
          ) : (
            <details open={isNext}>
              <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
                {state.kind === "done" || state.kind === "in-doubt" ? "Make it again" : "Write the result"}
              </summary>
              <QuestionForm
                id={`t-${test.key}`}
                action={recordResultAction}
                hidden={hidden}
                questions={questions}
                button="Keep the result"
              />
            </details>
          )}
          {mayTest && stop === null && correctable !== null ? (
            <details>
              <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
                Correct what was written down wrongly
              </summary>
              <QuestionForm
                id={`c-${test.key}`}
                action={recordResultAction}
                hidden={{ ...hidden, correctsId: correctable }}
                questions={questions.map((question) =>
                  question.name === "note" ? { ...question, label: "What was wrong with the first entry" } : question,
                )}
                button="Keep the correction"
              />
            </details>
          ) : null}
          {mayTest && test.isMandatory && (state.kind === "open" || state.kind === "in-doubt") ? (
            <details>
              <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
                Leave it out, with a reason
              </summary>
              <QuestionForm
                id={`w-${test.key}`}
                action={waiveTestAction}
                hidden={hidden}
                questions={[{ name: "why", label: "Why is it left out?", kind: "long" }]}
                button="Leave it out"
              />
            </details>
          ) : null}
        </div>
      </details>
    </article>
  );
}

function LimitLine({ test: { reading } }: { test: TestDefinition }) {
  if (reading.kind === "look") {
    return (
      <p className="text-sm">
        <strong>As it should be:</strong> {reading.expected}
      </p>
    );
  }
  const { limits, instrument, unit } = reading;
  return (
    <p className="text-sm">
      <strong>Limits:</strong> {sayLimits(limits, unit)}. {limitSourceWords[limits.source]}: {limits.sourceNote}.{" "}
      <strong>With:</strong> {instrumentKindWords[instrument].toLowerCase()}.
    </p>
  );
}
