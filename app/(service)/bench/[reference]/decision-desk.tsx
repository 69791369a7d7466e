"use client";

import { useEffect } from "react";
import { ErrorSummary } from "@/app/_components/error-summary";
import { DecisionFields, type DecisionFieldsProps } from "./decision-fields";
import { MoveRefusal } from "./move-refusal";
import { useDecide } from "./use-decide";

interface DecisionDeskProps extends Omit<DecisionFieldsProps, "form"> {
  readonly reference: string;
  readonly version: number;
  /** False once it was decided, by this person or another. */
  readonly isOpen: boolean;
}

/** Where a return is decided. It stays in place when the page is read anew, so that nothing typed is ever lost. */
export function DecisionDesk({ reference, version, isOpen, ...choices }: DecisionDeskProps) {
  const { form, state, isSending, send, forget } = useDecide(reference, version);
  const { errors, submitCount } = form.formState;
  const isDone = state.kind === "done";

  // The form is gone and the decision stands in its place: the focus follows, so that it is read out.
  useEffect(() => {
    if (isDone && !isOpen) document.getElementById("decision-title")?.focus();
  }, [isDone, isOpen]);

  if (isDone) return null;
  if (!isOpen) return <NotSent reason={form.getValues("reason")} />;
  const problems = [
    { href: "#remedy", sentence: errors.remedy?.message },
    { href: "#replacement", sentence: errors.replacementRevisionCode?.message },
    { href: "#confirmed-fault", sentence: errors.confirmedFault?.message },
    { href: "#reason", sentence: errors.reason?.message },
    { href: "#remedy", sentence: errors.seenVersion?.message },
  ].flatMap(({ href, sentence }) => (sentence === undefined ? [] : [{ href, sentence }]));
  return (
    <form onSubmit={send} noValidate className="space-y-6">
      <ErrorSummary problems={problems} attempt={submitCount} />
      <DecisionFields {...choices} form={form} isSending={isSending} />
      <MoveRefusal state={state} onLookedAgain={forget} />
    </form>
  );
}

function NotSent({ reason }: { reason: string }) {
  if (reason === "") return null;
  return (
    <div className="border-2 border-dashed border-edge p-3">
      <p className="font-semibold">What you wrote was not sent: somebody decided first</p>
      <p dir="auto" className="mt-1 whitespace-pre-line">
        {reason}
      </p>
    </div>
  );
}
