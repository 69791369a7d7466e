"use client";

import { useEffect, useState } from "react";
import { ErrorSummary } from "@/app/_components/error-summary";
import { MoveRefusal } from "@/app/_components/move-refusal";
import type { StatedFacts } from "@/lib/returns/return-facts";
import { DecisionFields, type DecisionFieldsProps } from "./decision-fields";
import { TestsDone } from "./tests-done";
import { useDecide } from "./use-decide";

interface DecisionDeskProps extends Omit<DecisionFieldsProps, "form"> {
  readonly reference: string;
  readonly version: number;
  /** False once a decision was proposed, by this person or another, and wherever none can be. */
  readonly isOpen: boolean;
  /** From the bench a decision needs its tests; on log and photographs alone there are none. */
  readonly asksForTests: boolean;
}

/** Where a decision is proposed. It stays in place when the page is read anew, so that nothing typed is ever lost. */
export function DecisionDesk({ reference, version, isOpen, asksForTests, ...choices }: DecisionDeskProps) {
  const [tests, setTests] = useState<StatedFacts>({});
  const { form, state, isSending, send } = useDecide(reference, version, asksForTests ? tests : {});
  const { errors, submitCount } = form.formState;
  const isDone = state.kind === "done";

  // The form is gone and the proposal stands in its place: the focus follows, so that it is read out.
  useEffect(() => {
    if (isDone && !isOpen) document.getElementById("proposal-title")?.focus();
  }, [isDone, isOpen]);

  if (isDone && !isOpen) return null;
  if (!isOpen) return <NotSent reason={form.getValues("reason")} />;
  const problems = [
    { href: "#tests-done", sentence: errors.root?.tests?.message },
    { href: "#tests-waived", sentence: errors.root?.testsWaivedBecause?.message },
    { href: "#remedy", sentence: errors.remedy?.message },
    { href: "#replacement", sentence: errors.replacementRevisionCode?.message },
    { href: "#refund-amount", sentence: errors.refundMinor?.message },
    { href: "#refund-currency", sentence: errors.refundCurrency?.message },
    { href: "#comes-back-what", sentence: errors.comesBackWhat?.message },
    { href: "#comes-back-by", sentence: errors.comesBackBy?.message },
    { href: "#comes-back", sentence: errors.comesBack?.message },
    { href: "#refusal-term", sentence: errors.refusalTerm?.message },
    { href: "#refusal-evidence", sentence: errors.refusalEvidence?.message },
    { href: "#refusal-alternatives", sentence: errors.refusalAlternatives?.message },
    { href: "#refused-unseen", sentence: errors.refusedUnseenBecause?.message },
    { href: "#confirmed-fault", sentence: errors.confirmedFault?.message },
    { href: "#reason", sentence: errors.reason?.message },
    { href: "#remedy", sentence: errors.seenVersion?.message },
  ].flatMap(({ href, sentence }) => (sentence === undefined ? [] : [{ href, sentence }]));
  const desk = (
    <form onSubmit={send} noValidate className="space-y-6">
      <ErrorSummary problems={problems} attempt={submitCount} />
      {asksForTests ? (
        <TestsDone
          stated={tests}
          onChange={setTests}
          testsError={errors.root?.tests?.message}
          becauseError={errors.root?.testsWaivedBecause?.message}
        />
      ) : null}
      <DecisionFields {...choices} form={form} isSending={isSending} />
      <MoveRefusal state={state} />
    </form>
  );
  // Where a test comes next the desk is one tap away.
  if (!choices.isUntested) return desk;
  return (
    <details className="card">
      <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">Decide without a test</summary>
      <div className="space-y-3 border-t border-rule p-3">
        <p>
          For a pack that is lost, set apart or not wanted back: it can be set apart, disposed of, replaced or refunded.
        </p>
        {desk}
      </div>
    </details>
  );
}

function NotSent({ reason }: { reason: string }) {
  if (reason === "") return null;
  return (
    <div className="border-2 border-dashed border-edge p-3">
      <p className="font-semibold">What you wrote was not sent: somebody was faster</p>
      <p dir="auto" className="mt-1 whitespace-pre-line">
        {reason}
      </p>
    </div>
  );
}
