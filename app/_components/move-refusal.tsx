"use client";

import { MeanwhileNote } from "./meanwhile-note";
import type { MoveState } from "./move-state";
import { Notice } from "./notice";

interface MoveRefusalProps {
  readonly state: MoveState;
  /** Once the page shows the return as it is now. */
  readonly onLookedAgain?: () => void;
}

/** Why it was not done, what others did meanwhile, and the way to see it, which keeps whatever was typed. */
export function MoveRefusal({ state, onLookedAgain }: MoveRefusalProps) {
  if (state.kind !== "refused") return null;
  return (
    <div role="alert">
      <Notice kind="caution" title={state.sentence}>
        {state.meanwhile === null ? null : <MeanwhileNote meanwhile={state.meanwhile} onLookedAgain={onLookedAgain} />}
      </Notice>
    </div>
  );
}
