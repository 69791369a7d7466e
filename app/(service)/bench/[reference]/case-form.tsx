"use client";

import { useActionState } from "react";
import { Button } from "@/app/_components/button";
import { type CaseState, recordCaseAction } from "./case-action";

const untouched: CaseState = { problem: null };

/** One number. A welded case may rock from new, so the question is the gap, not whether it looks square. */
export function CaseForm({ reference }: { reference: string }) {
  const [state, act, isSending] = useActionState(recordCaseAction, untouched);
  return (
    <form action={act} className="space-y-2">
      <input type="hidden" name="reference" value={reference} />
      <label htmlFor="case-gap" className="block font-semibold">
        Largest gap to a straight-edge, mm
      </label>
      <p id="case-gap-hint" className="text-sm text-soft">
        Lay the straight-edge along the longest face. Only on a pack that may be handled; a pack that swells or is warm
        is left alone.
      </p>
      {state.problem === null ? null : (
        <p id="case-gap-problem" role="alert" className="font-semibold text-danger">
          {state.problem}
        </p>
      )}
      <div className="flex flex-wrap gap-2">
        <input
          id="case-gap"
          name="gapMillimetre"
          inputMode="decimal"
          required
          aria-describedby={state.problem === null ? "case-gap-hint" : "case-gap-hint case-gap-problem"}
          aria-invalid={state.problem !== null}
          className="min-h-11 w-28 rounded border-2 border-edge bg-raised px-3"
        />
        <Button type="submit" weight="second" disabled={isSending}>
          {isSending ? "Keeping ..." : "Keep the reading"}
        </Button>
      </div>
    </form>
  );
}
