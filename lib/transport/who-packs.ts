import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { isInbound, type Leg } from "./leg";

/** Whoever sends a pack packs it: on the ways to us the dealer, on the ways out the bench. */
export function mayPack(actor: Actor, leg: Leg): boolean {
  return may(actor, isInbound(leg) ? "confirm-at-counter" : "work-on-pack");
}
