"use client";

import { useActionState } from "react";
import { Button } from "@/app/_components/button";
import { takeReturnAction } from "./actions";
import { MoveRefusal } from "./move-refusal";
import { untouched } from "./move-state";

/** Takes the return off the queue. Works before any script has arrived. */
export function TakeForm({ reference, version }: { reference: string; version: number }) {
  const [state, action, isPending] = useActionState(takeReturnAction, untouched);
  return (
    <form action={action} className="space-y-3">
      <input type="hidden" name="reference" value={reference} />
      <input type="hidden" name="seenVersion" value={version} />
      <MoveRefusal state={state} />
      <Button type="submit" className="w-full" aria-busy={isPending}>
        {isPending ? "Taking it…" : "Take this return"}
      </Button>
      <p className="text-soft">From then on it stands under your name, and you decide it here.</p>
    </form>
  );
}
