"use client";

import { useRouter } from "next/navigation";
import { useTransition } from "react";
import { Button } from "@/app/_components/button";
import { Notice } from "@/app/_components/notice";
import type { MoveState } from "./move-state";

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
        {state.changes.length === 0 ? null : (
          <>
            <p>Since you opened it:</p>
            <ul className="list-disc pl-5">
              {state.changes.map((change) => (
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
