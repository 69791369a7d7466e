import type { MoveName } from "@/lib/returns/move-names";

/** Moves after which a return stands where it stood, or that drop it, or to which nobody can be held. */
export const leadsNowhere: readonly MoveName[] = [
  "take-over",
  "ask",
  "prove-sale",
  "choose-proof",
  "add-readings",
  "give-letter",
  "remind",
  "confirm-help",
  "object",
  "withdraw",
];
