"use client";

import { MeanwhileNote, useLookedAgain } from "./meanwhile-note";
import type { MoveState } from "./move-state";
import { Notice } from "./notice";

/** Why it was not done, what others did meanwhile, and the way to see it, which keeps whatever was typed. */
export function MoveRefusal({ state }: { state: MoveState }) {
  const { isOver, onLookedAgain } = useLookedAgain(state);
  if (state.kind !== "refused" || isOver) return null;
  return (
    <div role="alert">
      <Notice kind="caution" title={state.sentence}>
        {state.meanwhile === null ? null : <MeanwhileNote meanwhile={state.meanwhile} onLookedAgain={onLookedAgain} />}
      </Notice>
    </div>
  );
}
