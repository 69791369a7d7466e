import { CalendarDay } from "@/app/_components/calendar-day";
import { Notice } from "@/app/_components/notice";
import { StepForm } from "@/app/_components/step-form";
import { TrackForm } from "@/app/_components/track-form";
import type { DealerReturnPage } from "@/lib/data/returns/returns";
import type { MoveName } from "@/lib/returns/move-names";
import { type SafetyState, safetyWords } from "@/lib/returns/safety-track";
import { moveAction, trackAction } from "./actions";
import { PlacePart } from "./place-part";

/** What the dealer does next stands open; what it may do besides is one tap away. */
const mainSteps: readonly MoveName[] = ["answer", "take-up-again", "hand-to-carrier", "confirm-help", "hand-back"];

const reasonLabels: Readonly<Record<string, string>> = {
  answer: "Your answer",
  "take-up-again": "Your answer to the question",
  "confirm-help": "What helped?",
  object: "Why do you object?",
  "reopen-solved": "What does it do now?",
};

/** A dealer raises a flag to one of these; incidents are opened by the maker's people, who hear of the flag at once. */
const raised: readonly SafetyState[] = ["isolate", "do-not-move"];

export function YourSteps({ page }: { page: DealerReturnPage }) {
  const { reference, version, steps } = page;
  const { own, question, safety, custody } = steps;
  const open = own.filter(({ whyNot }) => whyNot === null);
  const shut = own.filter(({ name, whyNot }) => whyNot !== null && mainSteps.includes(name));
  const flags = steps.safetyChoices.filter((state) => raised.includes(state));
  const form = (step: (typeof own)[number], main: boolean) => (
    <StepForm
      step={step}
      reference={reference}
      version={version}
      action={moveAction}
      reasonLabel={reasonLabels[step.name] ?? "Why?"}
      main={main}
    />
  );
  return (
    <div className="space-y-4">
      {question === null ? null : (
        <Notice kind="info" title={`${question.askedByName} asks`}>
          <p dir="auto" className="whitespace-pre-line text-lg">
            {question.text}
          </p>
          <p>
            {steps.isOverdue ? "An answer was asked for by " : "Please answer by "}
            <CalendarDay date={question.dueOn} />. The maker&apos;s clock stands still until you answer.
          </p>
        </Notice>
      )}
      {open
        .filter(({ name }) => mainSteps.includes(name))
        .map((step) => (
          <div key={step.name}>{form(step, true)}</div>
        ))}
      {shut.map(({ name, label, whyNot }) => (
        <p key={name}>
          <strong>{label}: </strong>
          {whyNot}
        </p>
      ))}
      {open
        .filter(({ name }) => !mainSteps.includes(name))
        .map((step) => (
          <details key={step.name} className="card">
            <summary className="min-h-12 cursor-pointer px-3 py-3 font-semibold">{step.label}</summary>
            <div className="border-t border-rule p-3">{form(step, false)}</div>
          </details>
        ))}
      <PlacePart reference={reference} custody={custody} action={trackAction} />
      {flags.length === 0 ? null : (
        <details className="card">
          <summary className="min-h-12 cursor-pointer px-3 py-3 font-semibold">
            Something is wrong with the pack now
          </summary>
          <div className="border-t border-rule p-3">
            <p className="mb-3">
              First keep people away and follow your local emergency services and rules. Then tell the maker here.
            </p>
            <TrackForm
              track="safety"
              reference={reference}
              version={safety.version}
              label="What should everybody know?"
              button="Tell the maker now"
              choices={flags.map((value) => ({ value, label: safetyWords[value] }))}
              action={trackAction}
            />
          </div>
        </details>
      )}
    </div>
  );
}
