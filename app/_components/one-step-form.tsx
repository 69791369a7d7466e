"use client";

import { useActionState } from "react";
import { Button } from "./button";
import { type FormAnswer, untouchedForm } from "./form-answer";
import { MeanwhileNote, useLookedAgain } from "./meanwhile-note";

interface OneStepFormProps {
  readonly action: (before: FormAnswer, form: FormData) => Promise<FormAnswer>;
  readonly hidden: Readonly<Record<string, string>>;
  readonly button: string;
  /** What is done to what, for those who hear the button without its row. */
  readonly spoken: string;
  /** Asks for words beside the button, under this label. */
  readonly asks?: string;
  readonly weight?: "main" | "second" | "danger";
}

/** One button that does one thing to one row, with the server's answer beside it. */
export function OneStepForm({ action, hidden, button, spoken, asks, weight = "second" }: OneStepFormProps) {
  const [state, send, isSending] = useActionState(action, untouchedForm);
  const { isOver, onLookedAgain } = useLookedAgain(state);
  return (
    <form action={send} className="flex flex-wrap items-end gap-2">
      {Object.entries(hidden).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      {asks === undefined ? null : (
        <label className="block text-sm">
          <span className="block font-semibold">{asks}</span>
          <input
            name="reason"
            className="min-h-11 w-44 rounded border-2 border-edge bg-raised px-2 text-base"
            defaultValue={state.kind === "refused" ? state.typed.reason : ""}
          />
        </label>
      )}
      <Button type="submit" weight={weight} aria-label={spoken} aria-busy={isSending}>
        {isSending ? "Sending…" : button}
      </Button>
      {state.kind === "refused" && !isOver ? (
        <div role="alert" className="basis-full space-y-2">
          <p className="font-semibold text-danger">{state.problems.map(({ sentence }) => sentence).join(" ")}</p>
          {state.meanwhile === null ? null : (
            <MeanwhileNote meanwhile={state.meanwhile} onLookedAgain={onLookedAgain} />
          )}
        </div>
      ) : null}
    </form>
  );
}
