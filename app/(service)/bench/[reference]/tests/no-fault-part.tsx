import { LocalTime } from "@/app/_components/local-time";
import { QuestionForm } from "@/app/_components/question-form";
import {
  type NoFaultStanding,
  type NoFaultStep,
  noFaultOutcomeWords,
  noFaultSteps,
  noFaultStepWords,
} from "@/lib/bench-tests/no-fault-protocol";
import type { BenchTestPage } from "@/lib/data/bench-tests/bench-test-page";
import type { NoFaultStepView } from "@/lib/data/bench-tests/no-fault-part";
import { recordNoFaultStepAction, startNoFaultAction, waiveNoFaultAction } from "./actions";

interface NoFaultPartProps {
  readonly page: BenchTestPage;
  readonly mayTest: boolean;
  readonly mayWaive: boolean;
}

/** What has to be tried before anybody says that no fault was found. */
export function NoFaultPart({ page, mayTest, mayWaive }: NoFaultPartProps) {
  const { noFault, reference } = page;
  const { standing, entries, triggers } = noFault;
  const isStarted = standing.kind !== "not-started";
  return (
    <section id="no-fault" aria-labelledby="no-fault-title" className="space-y-4">
      <h2 id="no-fault-title" className="border-b-2 border-ink pb-1">
        Before “no fault found”
      </h2>
      <p>{sayStanding(standing)}</p>
      {triggers.length === 0 ? (
        <p className="text-soft">
          None of the written criteria asks for it now. “No fault found” needs it all the same.
        </p>
      ) : (
        <div className="border-l-4 border-warn pl-3">
          <p className="font-semibold">It is to be started, because:</p>
          <ul className="list-disc space-y-1 pl-5">
            {triggers.map(({ kind, sentence }) => (
              <li key={kind}>{sentence}</li>
            ))}
          </ul>
        </div>
      )}
      {entries
        .filter(({ kind }) => kind !== "step")
        .map(({ kind, note, byName, at }) => (
          <p key={at.toISOString()}>
            <strong>{kind === "waived" ? "Left out by the lead:" : "Started:"}</strong> {note}{" "}
            <span className="text-sm text-soft">
              {byName}, <LocalTime at={at} />
            </span>
          </p>
        ))}
      {mayTest && !isStarted ? (
        <QuestionForm
          id="no-fault-start"
          action={startNoFaultAction}
          hidden={{ reference }}
          questions={[
            {
              name: "why",
              label: "Why is it started?",
              kind: "long",
              value: triggers.map(({ sentence }) => sentence).join(" "),
            },
          ]}
          button="Start the protocol"
        />
      ) : null}
      {isStarted ? (
        <ol className="space-y-3">
          {noFault.steps.map((step) => (
            <StepCard key={step.step} view={step} page={page} mayTest={mayTest} />
          ))}
        </ol>
      ) : null}
      {mayWaive && !["done", "waived", "showed"].includes(standing.kind) ? (
        <details>
          <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
            Leave the protocol out, as the service lead
          </summary>
          <QuestionForm
            id="no-fault-waive"
            action={waiveNoFaultAction}
            hidden={{ reference }}
            questions={[{ name: "why", label: "Why is it left out?", kind: "long" }]}
            button="Leave it out"
          />
        </details>
      ) : null}
    </section>
  );
}

function StepCard({ view, page, mayTest }: { view: NoFaultStepView; page: BenchTestPage; mayTest: boolean }) {
  const { step, stop, outcomes } = view;
  const { title, method, caution } = noFaultStepWords[step];
  const made = page.noFault.entries.filter((entry) => entry.step === step);
  return (
    <li className="card space-y-2 p-3">
      <p className="font-semibold">{title}</p>
      <p className="text-sm">{method}</p>
      {stop !== null ? (
        <p className="border-l-4 border-warn pl-3 font-semibold">
          Not to be made now. {stop}
          {outcomes.length === 0 ? "" : " What showed before it was stopped may still be written down."}
        </p>
      ) : caution === null ? null : (
        <p className="border-l-4 border-warn pl-3 text-sm">
          <strong>Before you begin:</strong> {caution}
        </p>
      )}
      {made.map(({ outcome, note, byName, at }) => (
        <p key={at.toISOString()}>
          <strong>{outcome === null ? "" : `${noFaultOutcomeWords[outcome]}:`}</strong> {note}{" "}
          <span className="text-sm text-soft">
            {byName}, <LocalTime at={at} />
          </span>
        </p>
      ))}
      {mayTest && outcomes.length > 0 ? (
        <details>
          <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
            {made.length === 0 ? "Write down what came of it" : "Write it down again"}
          </summary>
          <QuestionForm
            id={`no-fault-${step}`}
            action={recordNoFaultStepAction}
            hidden={{ reference: page.reference, step }}
            questions={[
              {
                name: "outcome",
                label: "What came of it",
                choices: [
                  { value: "", label: "Choose" },
                  ...outcomes.map((value) => ({ value, label: noFaultOutcomeWords[value] })),
                ],
              },
              { name: "note", label: "What was done and seen", kind: "long" },
            ]}
            button="Keep the step"
          />
        </details>
      ) : null}
    </li>
  );
}

function sayStanding(standing: NoFaultStanding): string {
  switch (standing.kind) {
    case "not-started":
      return "Not started.";
    case "open":
      return `${standing.missing.length} of ${noFaultSteps.length} steps are open: ${titles(standing.missing)}.`;
    case "showed":
      return `The complaint showed: ${titles(standing.steps)}. Code what was found.`;
    case "done":
      return "Every step is done and nothing showed: “no fault found” may be proposed.";
    case "waived":
      return "Left out by the service lead: “no fault found” may be proposed.";
    default: {
      const never: never = standing;
      return never;
    }
  }
}

function titles(steps: readonly NoFaultStep[]): string {
  return steps.map((step) => noFaultStepWords[step].title.toLowerCase()).join("; ");
}
