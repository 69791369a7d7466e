import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type TrackOutcome, type TrackRequest, type TrackStanding, trackRefused, trackStep } from "./track-step";

/** Lies over every other track: while it stands, nothing of the pack or its return is destroyed, erased or opened. */
export const holdStates = ["none", "held"] as const;
export type HoldState = (typeof holdStates)[number];

export const holdWords: Readonly<Record<HoldState, string>> = { none: "No legal hold", held: "Legal hold" };

export function readHoldState(stored: string): HoldState {
  const state = holdStates.find((known) => known === stored);
  if (state === undefined) throw new RangeError(`hold: ${stored} is unknown`);
  return state;
}

export function moveHold(
  actor: Actor,
  standing: TrackStanding<HoldState>,
  request: TrackRequest<HoldState>,
): TrackOutcome<HoldState> {
  if (!may(actor, "set-legal-hold")) return trackRefused("not-allowed");
  if (request.to === standing.state) return trackRefused("not-from-here");
  return trackStep(standing, request);
}
