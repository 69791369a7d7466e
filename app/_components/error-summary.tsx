"use client";

import { type MouseEvent, useEffect, useRef } from "react";

export interface FormProblem {
  /** Where the link leads: `#id` of the control on this page, or the address of another step. */
  readonly href: string;
  readonly sentence: string;
  /** For another step: goes there without loading the page anew. */
  readonly onFollow?: () => void;
}

interface ErrorSummaryProps {
  readonly problems: readonly FormProblem[];
  /** Changes with every failed attempt, so that the focus comes back even when the problems are the same. */
  readonly attempt: number | object;
}

/** Everything that keeps the form from going on, at the top, with the focus, in the words that stand at the fields. */
export function ErrorSummary({ problems, attempt }: ErrorSummaryProps) {
  const box = useRef<HTMLDivElement>(null);
  const shown = problems.length > 0;

  // biome-ignore lint/correctness/useExhaustiveDependencies: a further attempt must move the focus again, with the same problems too
  useEffect(() => {
    if (shown) box.current?.focus();
  }, [shown, attempt]);

  if (!shown) return null;
  return (
    <div
      ref={box}
      tabIndex={-1}
      role="alert"
      aria-labelledby="error-summary-title"
      className="mb-6 border-2 border-danger bg-danger-paper p-4"
    >
      <h2 id="error-summary-title" className="text-danger">
        {problems.length === 1 ? "One answer needs another look" : `${problems.length} answers need another look`}
      </h2>
      <ul className="mt-2">
        {problems.map((problem) => (
          <li key={`${problem.href} ${problem.sentence}`}>
            <a
              href={problem.href}
              onClick={(event) => follow(problem, event)}
              className="inline-flex min-h-11 items-center font-semibold text-danger underline underline-offset-4"
            >
              {problem.sentence}
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** The focus goes to the control without an entry in the history, so that Back still leads to the question before. */
function follow({ href, onFollow }: FormProblem, event: MouseEvent) {
  const control = href.startsWith("#") ? document.getElementById(href.slice(1)) : null;
  if (control === null && onFollow === undefined) return;
  event.preventDefault();
  onFollow?.();
  control?.focus();
}
