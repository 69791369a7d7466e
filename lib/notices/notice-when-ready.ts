import type { DecidableRemedy } from "@/lib/returns/decision.schema";
import type { NoticeKind } from "./notice-kinds";

/** Remedies that give the pack back as it came; where it never came there is nothing to give back. */
const givesItBack: readonly DecidableRemedy[] = ["return-as-is", "refuse"];

/** What the dealer is told when a decision is carried out: only where a pack comes back may a notice say that one does. */
export function noticeWhenReady(remedy: DecidableRemedy | null, packIsHere: boolean): NoticeKind {
  if (remedy === "repair" || remedy === "replace") return "sent-back";
  return remedy !== null && givesItBack.includes(remedy) && packIsHere ? "sent-back" : "carried-out";
}
