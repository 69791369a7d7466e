import type { OutgoingRefusal } from "@/lib/returns/outgoing-refusal";
import type { SendingState } from "./authorisation";

export interface LeavingFacts {
  readonly sending: SendingState;
  readonly labelPrinted: boolean;
  readonly packedAsTold: boolean;
}

/** Why a pack may not be given to a carrier on its way out; null where class, label, checklist and photographs are there. */
export function whyNotLeaving({ sending, labelPrinted, packedAsTold }: LeavingFacts): OutgoingRefusal | null {
  switch (sending.kind) {
    case "may-send":
      if (!labelPrinted) return "outgoing-no-label";
      return packedAsTold ? null : "outgoing-not-packed";
    case "no-class":
    case "not-approved":
    case "not-any-more":
      return "outgoing-no-class";
    case "do-not-ship":
      return "outgoing-do-not-ship";
    case "frozen":
    case "set-apart":
      return "outgoing-held";
    case "stopped":
      return "outgoing-stopped";
    case "rules-changed":
      return "outgoing-rules-changed";
    case "evidence-changed":
      return "outgoing-evidence-changed";
    case "expired":
      return "outgoing-ended";
    default: {
      const never: never = sending;
      return never;
    }
  }
}
