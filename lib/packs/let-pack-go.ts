import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { StopOnPack } from "./stock-pack";

/** A stop as it lies on one pack today. */
export interface ShipStop extends StopOnPack {
  /** Names this stop and no later one: an issue, or the event by which a set was held back. */
  readonly key: string;
  /** Who held the set back; null where an issue stops the pack, which is opened by two. */
  readonly heldByUserId: string | null;
}

/** Words about one pack under a stop: it may go although its like stays, or it is held back again after all. */
export const letGoKinds = ["let-go", "held-again"] as const;
export type LetGoKind = (typeof letGoKinds)[number];

export interface WordOnStops {
  readonly kind: string;
  readonly stops: readonly string[];
}

/** The stops that words answer, given from the oldest to the newest: of each stop the newest word counts. */
export function answeredStops(words: readonly WordOnStops[]): ReadonlySet<string> {
  const newest = new Map(words.flatMap(({ kind, stops }) => stops.map((key) => [key, kind] as const)));
  return new Set([...newest].flatMap(([key, kind]) => (kind === "let-go" ? [key] : [])));
}

export type LetGoRefusal =
  | "not-allowed"
  | "not-stopped"
  | "not-let-go"
  | "same-person"
  | "someone-changed-this"
  | "reason-missing";

export const letGoRefusals: Readonly<Record<LetGoRefusal, string>> = {
  "not-allowed": "A manager or the safety officer lets a single pack go.",
  "not-stopped": "Nothing holds this pack back.",
  "not-let-go": "Nobody let this pack go under the decision that stands.",
  "same-person": "You held these packs back, so somebody else lets one go: a manager or the safety officer.",
  "someone-changed-this": "What holds the pack back has changed. Look at it as it is now.",
  "reason-missing": "Write why, in a sentence: the next reader has only this.",
};

/** Shortest reason that says something to whoever reads it in a year. Rule of this house. */
const LEAST_REASON = 10;

export interface LetGoRequest {
  readonly why: string;
  /** The stops that were on the screen. */
  readonly seenStops: readonly string[];
}

/**
 * Why somebody does not let one pack go that lies under a stop; null where it may be done. Held back by one, let go by another
 * (separation of duties, rule of this house), as with a whole set.
 */
export function whyNotLetGo(
  actor: Actor,
  stops: readonly ShipStop[],
  { why, seenStops }: LetGoRequest,
): LetGoRefusal | null {
  if (!may(actor, "stop-ship")) return "not-allowed";
  if (stops.length === 0) return "not-stopped";
  if (stops.some(({ heldByUserId }) => heldByUserId === actor.userId)) return "same-person";
  if (stops.some(({ key }) => !seenStops.includes(key))) return "someone-changed-this";
  return why.trim().length < LEAST_REASON ? "reason-missing" : null;
}

/** Why somebody does not hold a pack back again that was let go; null where it may be done. Safe side, so one person is enough. */
export function whyNotHeldAgain(actor: Actor, answered: readonly string[], why: string): LetGoRefusal | null {
  if (!may(actor, "stop-ship")) return "not-allowed";
  if (answered.length === 0) return "not-let-go";
  return why.trim().length < LEAST_REASON ? "reason-missing" : null;
}
