import { type OutgoingRefusal, outgoingRefusals } from "./outgoing-refusal";

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
  | "evidence-place-missing"
  | "day-to-come"
  | "quarantine-not-met"
  | "not-by-scan"
  | "at-goods-in"
  | "by-step"
  | "undecided"
  | "not-what-was-decided"
  | "not-given-up"
  | "notices-missing"
  | "choice-missing"
  | "unit-missing"
  | "unit-stopped"
  | "unit-unseen"
  | "not-released"
  | "scan-missing"
  | "scan-other-pack"
  | "paid-before"
  | "paid-in-other-currency"
  | OutgoingRefusal;

export type TrackOutcome<State extends string> =
  | { readonly kind: "moved"; readonly from: State; readonly to: State; readonly version: number }
  | { readonly kind: "refused"; readonly why: TrackRefusal; readonly sentence: string };

/** The question of the form that a refusal is about; what is not here is about where the track stands. */
const questions: Readonly<
  Partial<Record<TrackRefusal, "reason" | "scanned" | "agreement" | "collectedOn" | "keptAt">>
> = {
  "reason-missing": "reason",
  "unit-unseen": "reason",
  "scan-missing": "scanned",
  "scan-other-pack": "scanned",
  "not-given-up": "agreement",
  "day-to-come": "collectedOn",
  "evidence-place-missing": "keptAt",
};

export function trackRefusedAt(why: TrackRefusal | "not-found"): string | null {
  return why === "not-found" ? null : (questions[why] ?? null);
}

const sentences: Readonly<Record<TrackRefusal, string>> = {
  "not-allowed": "This is not yours to do.",
  "someone-changed-this": "Somebody changed this while you had it open. Look at it as it is now, then decide again.",
  "not-from-here": "This step does not follow from where it stands now.",
  "reason-missing": "Write the reason: the next reader has only this.",
  "set-apart": "The pack is set apart for safety. The safety officer has to lower that first.",
  "on-hold": "A legal hold lies on this pack: nothing of it may be destroyed or given away.",
  "evidence-place-missing":
    "An open incident holds this pack as evidence. Write where it is kept whole until the incident is closed: nothing of it is destroyed before.",
  "day-to-come": "This day is still to come. Write it down once the pack is gone.",
  "quarantine-not-met":
    "It lies in quarantine. Its stay ends on the page of goods-in, once hours, measurements, identity and photographs are there; then it goes on.",
  "not-by-scan": "It goes to the carrier with the step “Hand it to the carrier”: class, label and packing come before.",
  "at-goods-in":
    "What comes in is recorded at goods-in, with its box and photographs: its hours in quarantine begin there.",
  "by-step": "Record it with the step “The carrier gave it back”: then the pack can be sent anew, with new papers.",
  undecided: "Nothing is decided yet that this could follow from.",
  "not-what-was-decided": "This is not what was decided on the return.",
  "not-given-up":
    "By the decision this pack goes back to its customer. It goes to a supplier only where the customer gave it: write who agreed, when and how.",
  "notices-missing": "The notices that the place of sale asks for have to be shown first. They stand on this page.",
  "choice-missing": "Record first what the customer chose between repair and replacement.",
  "unit-missing": "No pack is kept for this return yet. Keep one first.",
  "unit-stopped": "The pack kept for this return must not go out. Give it up and keep another.",
  "unit-unseen":
    "Write what was looked at before it goes to a customer again: box and seal, case, connector, voltage. A few words are not enough.",
  "scan-missing":
    "Scan the label of the pack. Where the code cannot be read, say so, and write below how you know which pack it is.",
  "scan-other-pack": "This is another pack, or no code of ours. Nothing was moved: take the right pack.",
  "not-released":
    "The repaired pack is not released yet: it has to pass the limits of a new build, and somebody signs.",
  "paid-before": "The refund of this decision is paid already. More money needs a new decision.",
  "paid-in-other-currency":
    "Part of this was paid in another currency, so nobody can tell what is left. Have it decided anew in that currency.",
  ...outgoingRefusals,
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
