/** One thing followed beside the case: a pack's place, its safety, a remedy, a hold. */
export interface TrackStanding<State extends string> {
  readonly state: State;
  /** Rises by one with every move; 0 before the first. */
  readonly version: number;
}

export interface TrackRequest<State extends string> {
  readonly to: State;
  readonly reason: string;
  /** The version on the screen of whoever moves. */
  readonly seenVersion: number;
}

export type TrackRefusal =
  | "not-allowed"
  | "someone-changed-this"
  | "not-from-here"
  | "reason-missing"
  | "set-apart"
  | "on-hold"
  | "undecided";

export type TrackOutcome<State extends string> =
  | { readonly kind: "moved"; readonly from: State; readonly to: State; readonly version: number }
  | { readonly kind: "refused"; readonly why: TrackRefusal; readonly sentence: string };

const sentences: Readonly<Record<TrackRefusal, string>> = {
  "not-allowed": "This is not yours to do.",
  "someone-changed-this": "Somebody changed this while you had it open. Look at it as it is now, then decide again.",
  "not-from-here": "This step does not follow from where it stands now.",
  "reason-missing": "Write the reason: the next reader has only this.",
  "set-apart": "The pack is set apart for safety. The safety officer has to lower that first.",
  "on-hold": "A legal hold lies on this pack: nothing of it may be destroyed or given away.",
  undecided: "Nothing is decided yet that this could follow from.",
};

export function trackRefused(why: TrackRefusal): { kind: "refused"; why: TrackRefusal; sentence: string } {
  return { kind: "refused", why, sentence: sentences[why] };
}

/** What every move has to hold to, whatever the track: the version somebody saw, and a reason in words. */
export function trackStep<State extends string>(
  standing: TrackStanding<State>,
  request: TrackRequest<State>,
): TrackOutcome<State> {
  if (request.seenVersion !== standing.version) return trackRefused("someone-changed-this");
  if (request.reason.trim() === "") return trackRefused("reason-missing");
  return { kind: "moved", from: standing.state, to: request.to, version: standing.version + 1 };
}
