import { ArrowLeft } from "lucide-react";
import { useEffect, useRef } from "react";
import { useFormState } from "react-hook-form";
import { ErrorSummary } from "@/app/_components/error-summary";
import type { LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { type KnownPack, questions, type StepName, stepAsking, stepBefore, stepsFor } from "./steps";
import { addressOf } from "./use-step";

interface StepHeadProps {
  readonly step: StepName;
  readonly pack: KnownPack | null;
  readonly attempt: number;
  readonly onBack: (step: StepName) => void;
  readonly onGo: (step: StepName, then: "check") => void;
}

/** Way back, where one is, what is wrong, and the question; the question takes the focus when the step changes. */
export function StepHead({ step, pack, attempt, onBack, onGo }: StepHeadProps) {
  const { errors } = useFormState<LodgeReturnInput>();
  const heading = useRef<HTMLHeadingElement>(null);
  const shownStep = useRef(step);
  const steps = stepsFor(pack);
  const before = stepBefore(step, pack);
  const progress = `Step ${steps.indexOf(step) + 1} of ${steps.length}`;

  useEffect(() => {
    document.title = `${progress}: ${questions[step]} · Returns Bench`;
    if (shownStep.current === step) return;
    shownStep.current = step;
    window.scrollTo(0, 0);
    heading.current?.focus();
  }, [step, progress]);

  const problems = Object.entries(errors).flatMap(([field, { message: sentence }]) => {
    const asking = stepAsking(field);
    if (typeof sentence !== "string") return [];
    if (asking === step) return [{ href: asking === "check" ? "#question" : `#${field}`, sentence }];
    if (step !== "check") return [];
    return [{ href: addressOf(asking, "check"), sentence, onFollow: () => onGo(asking, "check") }];
  });

  return (
    <div>
      <div className="mb-4 flex min-h-11 items-center justify-between gap-4 border-b border-rule">
        {before === null ? (
          <span />
        ) : (
          <button
            type="button"
            onClick={() => onBack(before)}
            className="-ml-2 inline-flex min-h-11 cursor-pointer items-center gap-1 px-2 font-semibold text-accent underline underline-offset-4"
          >
            <ArrowLeft aria-hidden size={18} />
            Back
          </button>
        )}
        <p className="caption-print">{progress}</p>
      </div>
      <ErrorSummary problems={problems} attempt={attempt} />
      <h1 id="question" ref={heading} tabIndex={-1}>
        {questions[step]}
      </h1>
    </div>
  );
}
