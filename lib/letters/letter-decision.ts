import { type DecidableRemedy, liesOutside } from "@/lib/returns/decision.schema";
import type { LetterDecision } from "./letter";

/** How a decided remedy is told to the customer; null where there is nothing to tell yet. */
export function letterDecisionOf(remedy: DecidableRemedy, confirmedFault: string): LetterDecision | null {
  switch (remedy) {
    case "repair":
    case "replace":
    case "refund":
    case "refuse":
      return remedy;
    case "remote-fix":
      return "put-right-at-seller";
    case "return-as-is":
      return confirmedFault === "no-fault-found" ? "no-fault-found" : "returned-unchanged";
    case "redirect":
      // The letter says that the fault is not in the pack: only where that was found.
      return liesOutside(confirmedFault) ? "other-maker" : "refuse";
    case "dispose":
      return "dispose-safely";
    case "isolate":
      return null;
  }
}
