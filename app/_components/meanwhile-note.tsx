"use client";

import { useRouter } from "next/navigation";
import { useState, useTransition } from "react";
import { Button } from "./button";
import type { Meanwhile } from "./move-state";

interface MeanwhileNoteProps {
  readonly meanwhile: Meanwhile;
  /** Once the page shows it as it is now. */
  readonly onLookedAgain: () => void;
}

/** Whether the answer of a form is over because somebody has looked at the page as it is now: what it says was then is so no longer. */
export function useLookedAgain(answer: object): { readonly isOver: boolean; readonly onLookedAgain: () => void } {
  const [over, setOver] = useState<object | null>(null);
  return { isOver: over === answer, onLookedAgain: () => setOver(answer) };
}

/** What others did while a form was open, beside how it was, and the way to see it, which keeps whatever was typed. */
export function MeanwhileNote({ meanwhile, onLookedAgain }: MeanwhileNoteProps) {
  const router = useRouter();
  const [isLooking, startLooking] = useTransition();

  function lookAgain() {
    startLooking(() => {
      router.refresh();
      onLookedAgain();
    });
  }

  return (
    <div className="space-y-2">
      <dl className="grid grid-cols-2 gap-px border border-rule bg-rule">
        <div className="bg-raised px-3 py-2">
          <dt className="caption-print">When you looked</dt>
          <dd>{meanwhile.was}</dd>
        </div>
        <div className="bg-raised px-3 py-2">
          <dt className="caption-print">Now</dt>
          <dd className="font-semibold">{meanwhile.now}</dd>
        </div>
      </dl>
      <p>Since you opened it:</p>
      <ul className="list-disc pl-5">
        {meanwhile.changes.map((change) => (
          <li key={change}>{change}</li>
        ))}
      </ul>
      <p>
        <Button weight="second" onClick={lookAgain} aria-busy={isLooking}>
          {isLooking ? "Reading it anew…" : "Show it as it is now; what I wrote is kept"}
        </Button>
      </p>
    </div>
  );
}
