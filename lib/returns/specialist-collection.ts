import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type CalendarDate, compareDates } from "@/lib/warranty/calendar";
import { atTheDealers, atTheWorks, type CustodyPlace } from "./custody-track";
import type { SafetyState } from "./safety-track";
import { type TrackOutcome, type TrackStanding, trackRefused, trackStep } from "./track-step";

/** Where a pack lies that somebody comes to fetch: with a carrier, a supplier or a recycler it is in other hands already. */
export function mayBeCollected(place: CustodyPlace): boolean {
  return atTheDealers.includes(place) || atTheWorks.includes(place);
}

export interface CollectionStanding extends TrackStanding<CustodyPlace> {
  readonly safety: SafetyState;
  readonly isOnHold: boolean;
  /** An open incident holds the pack as evidence, whatever its flag says. */
  readonly isHeldByIncident: boolean;
  /** Today where the pack is. */
  readonly today: CalendarDate;
}

export interface Collection {
  /** Who took it away, under which paper and when, in one sentence. */
  readonly reason: string;
  readonly collectedOn: CalendarDate;
  /** Where it is kept whole as evidence; empty where nobody wrote it. */
  readonly keptAt: string;
  readonly seenVersion: number;
}

/**
 * Writes down that a specialist took a pack away, whatever its flag: the way for those that nobody ships. Its flag stays as it is, because
 * being fetched makes no pack safer, and nothing has to be decided before, because a danger does not wait for it. Evidence is not lost by
 * it: under a legal hold nothing is collected, and under an open incident only where somebody writes where it is kept whole. Whoever may lower a flag records it (common practice, no source).
 */
export function collectPack(
  actor: Actor,
  { safety, isOnHold, isHeldByIncident, today, ...standing }: CollectionStanding,
  { collectedOn, reason, keptAt, seenVersion }: Collection,
): TrackOutcome<CustodyPlace> {
  if (!may(actor, "lower-safety")) return trackRefused("not-allowed");
  if (!mayBeCollected(standing.state)) return trackRefused("not-from-here");
  if (isOnHold) return trackRefused("on-hold");
  const isEvidence = isHeldByIncident || safety === "incident-open";
  if (isEvidence && keptAt.trim() === "") return trackRefused("evidence-place-missing");
  if (compareDates(collectedOn, today) > 0) return trackRefused("day-to-come");
  return trackStep(standing, { to: "specialist", reason, seenVersion });
}
