"use client";

import { useRouter } from "next/navigation";
import { useTransition } from "react";
import { Button } from "./button";
import type { MoveState } from "./move-state";
import { Notice } from "./notice";

interface MoveRefusalProps {
  readonly state: MoveState;
  /** Once the page shows the return as it is now. */
  readonly onLookedAgain?: () => void;
}

/** Why it was not done, what others did meanwhile, and the way to see it, which keeps whatever was typed. */
export function MoveRefusal({ state, onLookedAgain }: MoveRefusalProps) {
  const router = useRouter();
  const [isLooking, startLooking] = useTransition();
  if (state.kind !== "refused") return null;

  function lookAgain() {
    startLooking(() => {
      router.refresh();
      onLookedAgain?.();
    });
  }

  return (
    <div role="alert">
      <Notice kind="caution" title={state.sentence}>
        {state.meanwhile === null ? null : (
          <>
            <dl className="grid grid-cols-2 gap-px border border-rule bg-rule">
              <div className="bg-raised px-3 py-2">
                <dt className="caption-print">When you looked</dt>
                <dd>{state.meanwhile.was}</dd>
              </div>
              <div className="bg-raised px-3 py-2">
                <dt className="caption-print">Now</dt>
                <dd className="font-semibold">{state.meanwhile.now}</dd>
              </div>
            </dl>
            <p>Since you opened it:</p>
            <ul className="list-disc pl-5">
              {state.meanwhile.changes.map((change) => (
                <li key={change}>{change}</li>
              ))}
            </ul>
            <p>
              <Button weight="second" onClick={lookAgain} aria-busy={isLooking}>
                {isLooking ? "Reading it anew…" : "Show it as it is now; what I wrote is kept"}
              </Button>
            </p>
          </>
        )}
      </Notice>
    </div>
  );
}
