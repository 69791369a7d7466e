import type { Remedy } from "@/lib/diagnosis/finding";
import { type ReturnStatus, returnStatuses } from "./return-moves";

export interface Turn {
  /** Whose turn it is, for a person who waits. */
  readonly turn: string;
  /** What happens next, as one sentence. */
  readonly next: string;
}

const statusWords: Readonly<Record<ReturnStatus, string>> = {
  "sent-in": "Sent in",
  "in-review": "Being looked at",
  decided: "Decided",
  withdrawn: "Withdrawn",
};

export function readTurnStatus(stored: string): ReturnStatus {
  const status = returnStatuses.find((known) => known === stored);
  if (status === undefined) throw new RangeError(`status: ${stored} is none of the statuses of a return`);
  return status;
}

export function returnStatusWords(stored: string): string {
  return statusWords[readTurnStatus(stored)];
}

const afterDecision: Readonly<Record<Remedy, Turn>> = {
  repair: {
    turn: "The maker's turn",
    next: "The pack is to be repaired. Wait for the transport class and packing before you send anything.",
  },
  replace: {
    turn: "The maker's turn",
    next: "A replacement is to be sent. Keep the old pack as it is until you are told how to send or hand it over.",
  },
  "remote-fix": {
    turn: "Your turn",
    next: "This can be put right at your workshop. Do what the decision says, then tell us whether it helped.",
  },
  "return-as-is": {
    turn: "Your turn",
    next: "The pack may be handed back unchanged, with the reason written in the decision.",
  },
  isolate: {
    turn: "The maker's turn",
    next: "Keep the pack set apart and touch nothing. The maker arranges what happens with it.",
  },
  "cannot-tell": { turn: "The maker's turn", next: "More has to be found out before anything is decided." },
};

/** Whose turn it is and what comes next, as the dealer reads it. */
export function turnForDealer(status: ReturnStatus, danger: boolean, remedy: Remedy | null): Turn {
  switch (status) {
    case "sent-in":
      return {
        turn: "The maker's turn",
        next: danger
          ? "Danger signs come first in the queue. Keep the pack set apart; the service desk calls you."
          : "The service desk looks at it next. Keep the pack as it is and send nothing yet.",
      };
    case "in-review":
      return {
        turn: "The maker's turn",
        next: "A technician is looking at it. Keep the pack as it is and send nothing yet.",
      };
    case "decided":
      return remedy === null ? afterDecision["cannot-tell"] : afterDecision[remedy];
    case "withdrawn":
      return { turn: "Nobody's turn", next: "This return was withdrawn. Nothing more happens." };
  }
}
