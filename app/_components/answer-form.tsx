"use client";

import { type FormEvent, type ReactNode, startTransition, useActionState, useEffect, useRef } from "react";
import { type AnswerState, untouchedAnswer } from "./answer-state";
import { Button } from "./button";
import { Notice } from "./notice";
import { RefusedFields } from "./refused-fields";

interface AnswerFormProps {
  readonly action: (before: AnswerState, form: FormData) => Promise<AnswerState>;
  readonly submit: string;
  readonly weight?: "main" | "second" | "danger";
  readonly children?: ReactNode;
}

/**
 * A form that one action of the server answers. It works before any script has arrived; with script nothing that was
 * typed is lost when the answer is no.
 */
export function AnswerForm({ action, submit, weight = "main", children }: AnswerFormProps) {
  const [state, dispatch, isPending] = useActionState(action, untouchedAnswer);
  const form = useRef<HTMLFormElement>(null);

  useEffect(() => {
    if (state.kind === "done") form.current?.reset();
  }, [state]);

  // Sent by hand, because a form sent by its action is emptied whatever the answer.
  function send(event: FormEvent<HTMLFormElement>) {
    event.preventDefault();
    const sent = new FormData(event.currentTarget);
    startTransition(() => dispatch(sent));
  }

  return (
    <form ref={form} action={dispatch} onSubmit={send} className="space-y-4">
      <RefusedFields value={state.kind === "refused" ? (state.fields ?? {}) : {}}>{children}</RefusedFields>
      <div aria-live="polite">
        {state.kind === "done" ? <Notice kind="info" title={state.sentence} /> : null}
        {state.kind === "refused" ? (
          <Notice kind="caution" title={state.sentences[0] ?? "This was not taken."}>
            {state.sentences.slice(1).map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
          </Notice>
        ) : null}
      </div>
      <Button type="submit" weight={weight} aria-busy={isPending}>
        {isPending ? "Sending…" : submit}
      </Button>
    </form>
  );
}
