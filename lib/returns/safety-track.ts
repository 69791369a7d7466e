import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { Danger } from "./danger-signs";
import { type TrackOutcome, type TrackRequest, type TrackStanding, trackRefused, trackStep } from "./track-step";

/** How safe the pack is, from harmless to grave; "incident-closed" is an incident that was judged and ended. */
export const safetyStates = [
  "normal",
  "caution",
  "isolate",
  "do-not-move",
  "incident-open",
  "incident-closed",
] as const;
export type SafetyState = (typeof safetyStates)[number];

export const safetyWords: Readonly<Record<SafetyState, string>> = {
  normal: "No flag",
  caution: "Handle with care",
  isolate: "Set apart",
  "do-not-move": "Do not move",
  "incident-open": "Incident open",
  "incident-closed": "Incident closed",
};

/** Gravity for comparing; a closed incident weighs like a pack to handle with care. */
const gravity: Readonly<Record<SafetyState, number>> = {
  normal: 0,
  caution: 1,
  "incident-closed": 1,
  isolate: 2,
  "do-not-move": 3,
  "incident-open": 4,
};

export function readSafetyState(stored: string): SafetyState {
  const state = safetyStates.find((known) => known === stored);
  if (state === undefined) throw new RangeError(`safety: ${stored} is unknown`);
  return state;
}

/** Set apart or graver: not shipped, not tested to destruction, not handed back, not recycled, not erased. */
export function isSetApart(state: SafetyState): boolean {
  return gravity[state] >= gravity.isolate;
}

/** Nobody may carry it, not even to quarantine. */
export function mayNotBeMoved(state: SafetyState): boolean {
  return gravity[state] >= gravity["do-not-move"];
}

/** The flag for a pack of which a danger is known, by what was told or by its readings: what is going on now forbids to move it. */
export function flagOfDanger(danger: Danger): SafetyState {
  return danger.kind === "keep-away" ? "do-not-move" : "isolate";
}

/** How grave a pack is handled now: by the signs that were told, and by its flag, whatever was told first. */
export function dangerNow(told: Danger["kind"], flag: SafetyState): Danger["kind"] {
  if (told === "keep-away" || mayNotBeMoved(flag)) return "keep-away";
  return told === "set-apart" || isSetApart(flag) ? "set-apart" : "none";
}

/** The graver of two, so that a second sign never makes a pack look safer than the first did. */
export function graverOf(a: SafetyState, b: SafetyState): SafetyState {
  return gravity[b] > gravity[a] ? b : a;
}

/** When a named person last lowered the flag of a pack, from its steps in order of time; null where nobody did. */
export function lastLoweredAt(
  steps: readonly { readonly from: string; readonly to: string; readonly at: Date }[],
): Date | null {
  const lowered = steps.findLast(({ from, to }) => gravity[readSafetyState(to)] < gravity[readSafetyState(from)]);
  return lowered?.at ?? null;
}

export interface SafetyStanding extends TrackStanding<SafetyState> {
  /** The flag at the version that the person saw; null where they cannot read that step, or nobody looked. */
  readonly seen: SafetyState | null;
}

/**
 * Raises or lowers the flag of a pack. Anyone raises, to anything graver than now, on whatever version they saw: a danger is
 * never refused because somebody else was faster. What was graver on their screen and no longer is, is kept as news, and the
 * flag stays at the graver of both. Only the safety officer or a named deputy lowers, and closes an incident, with a reason,
 * on the version that stands. An incident is closed, never lowered past, and nobody sets it by hand: it is raised with what is
 * known of it, so that somebody is called and clocks run.
 */
export function moveSafety(
  actor: Actor,
  standing: SafetyStanding,
  request: TrackRequest<SafetyState>,
): TrackOutcome<SafetyState> {
  const { state, version } = standing;
  const { to } = request;
  const isByHand = to !== "incident-open" && to !== "incident-closed";
  if (isByHand && isMeantToRaise(actor, standing, request)) {
    if (!may(actor, "raise-safety")) return trackRefused("not-allowed");
    return trackStep(standing, { ...request, to: graverOf(state, to), seenVersion: version });
  }
  if (!may(actor, "lower-safety")) return trackRefused("not-allowed");
  if (to === state || to === "incident-open") return trackRefused("not-from-here");
  if (state === "incident-open" && to !== "incident-closed") return trackRefused("not-from-here");
  if (to === "incident-closed" && state !== "incident-open") return trackRefused("not-from-here");
  return trackStep(standing, request);
}

/** Graver than the flag is now, or than it was on the screen; whoever may only raise means that whatever was shown. */
function isMeantToRaise(
  actor: Actor,
  { state, version, seen }: SafetyStanding,
  { to, seenVersion }: TrackRequest<SafetyState>,
): boolean {
  if (gravity[to] > gravity[state]) return true;
  if (seenVersion >= version) return false;
  return seen === null ? !may(actor, "lower-safety") : gravity[to] > gravity[seen];
}

/** What this person may set the flag to from here. */
export function safetyChoices(actor: Actor, state: SafetyState): SafetyState[] {
  const standing = { state, version: 0, seen: state };
  return safetyStates.filter(
    (to) => moveSafety(actor, standing, { to, reason: "asked", seenVersion: 0 }).kind === "moved",
  );
}
