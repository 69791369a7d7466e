import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { isInbound, type Leg } from "./leg";

/** Languages in which a sheet says what the packing hand does: both, or one of them alone. */
export type SheetLanguages = "both" | "dealers-alone" | "english-alone";

/** Where the paper has room for one language alone it is that of whoever packs: the bench reads English. */
export function languagesOnSheet(leg: Leg, isSmall: boolean): SheetLanguages {
  if (!isSmall) return "both";
  return isInbound(leg) ? "dealers-alone" : "english-alone";
}

/** Whoever sends a pack packs it: on the ways to us the dealer, on the ways out the bench. */
export function mayPack(actor: Actor, leg: Leg): boolean {
  return may(actor, isInbound(leg) ? "confirm-at-counter" : "work-on-pack");
}
