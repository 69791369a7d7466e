import { isSetApart, type SafetyState } from "@/lib/returns/safety-track";
import { HOUR_MS } from "@/lib/warranty/clock-spans";
import { setApartFirst, whyTooEarly } from "./watch-hours";
import type { WatchTask, WatchVerdict } from "./watch-readings";

/** A place where packs lie apart. Its limits are settings of the house, agreed with insurer and fire service. */
export interface QuarantinePlace {
  readonly code: string;
  readonly maxPacks: number;
  readonly maxEnergyKwh: number;
  /** A pack stays at least so long before the bench may have it. */
  readonly minimumHours: number;
  /** From here on the stay itself is an alarm: nobody decided what happens next. */
  readonly overdueAfterHours: number;
}

export interface StayingPack {
  readonly energyKwh: number;
  readonly placedAt: Date;
}

export interface PlaceLoad {
  readonly packs: number;
  readonly energyKwh: number;
  readonly overPacks: boolean;
  readonly overEnergy: boolean;
}

export function loadOf(place: QuarantinePlace, staying: readonly Pick<StayingPack, "energyKwh">[]): PlaceLoad {
  const energyKwh = staying.reduce((sum, pack) => sum + pack.energyKwh, 0);
  return {
    packs: staying.length,
    energyKwh,
    overPacks: staying.length > place.maxPacks,
    overEnergy: energyKwh > place.maxEnergyKwh,
  };
}

export type Placing =
  | { readonly kind: "fits" }
  | { readonly kind: "refused"; readonly why: "too-many-packs" | "too-much-energy"; readonly sentence: string };

/** Whether one more pack may lie there. */
export function mayPlace(place: QuarantinePlace, staying: readonly StayingPack[], energyKwh: number): Placing {
  const after = loadOf(place, [...staying, { energyKwh }]);
  if (after.overPacks) {
    return {
      kind: "refused",
      why: "too-many-packs",
      sentence: `${place.code} takes ${place.maxPacks} packs and holds ${staying.length}. Choose another place.`,
    };
  }
  if (after.overEnergy) {
    return {
      kind: "refused",
      why: "too-much-energy",
      sentence: `${place.code} takes ${place.maxEnergyKwh.toFixed(1)} kWh; with this pack it would hold ${after.energyKwh.toFixed(1)} kWh. Choose another place.`,
    };
  }
  return { kind: "fits" };
}

export interface ReleaseFacts {
  readonly place: Pick<QuarantinePlace, "minimumHours">;
  readonly placedAt: Date;
  /** Of watching, by what happened to the pack. */
  readonly neededHours: number;
  readonly verdict: WatchVerdict;
  readonly tasks: readonly WatchTask[];
  readonly frozenBecause: readonly string[];
  /** The safety flag of the pack, which signs seen at goods-in raise. */
  readonly flag: SafetyState;
  readonly identityOpen: boolean;
  /** Faces of which no photograph was taken: after this the pack may be opened, and how it came is gone. */
  readonly missingFaces: readonly string[];
  /** Why they were not taken; null where nobody says so. */
  readonly noFacesBecause: string | null;
}

export type Release =
  | { readonly kind: "released" }
  | {
      readonly kind: "refused";
      readonly why:
        | "too-early"
        | "not-watched"
        | "measurement-missed"
        | "alarm"
        | "frozen"
        | "set-apart"
        | "identity-open"
        | "faces-missing";
      readonly sentence: string;
    };

/** How long it stays there: the time of the place or of its watch, whichever is longer. */
export function hoursToStay(place: Pick<QuarantinePlace, "minimumHours">, neededHours: number): number {
  return Math.max(place.minimumHours, neededHours);
}

/** Whether a pack may leave quarantine for the bench. What keeps people safe is said first. */
export function mayRelease(
  {
    place,
    placedAt,
    neededHours,
    verdict,
    tasks,
    frozenBecause,
    flag,
    identityOpen,
    missingFaces,
    noFacesBecause,
  }: ReleaseFacts,
  now: Date,
): Release {
  if (verdict.kind === "alarm") {
    return {
      kind: "refused",
      why: "alarm",
      sentence: `It gave an alarm. ${verdict.because.join(" ")} The safety officer judges it.`,
    };
  }
  if (frozenBecause.length > 0) return { kind: "refused", why: "frozen", sentence: frozenBecause.join(" ") };
  if (isSetApart(flag)) {
    return { kind: "refused", why: "set-apart", sentence: setApartFirst };
  }
  if (identityOpen) {
    return {
      kind: "refused",
      why: "identity-open",
      sentence:
        "It is not settled that this is the pack of this return. Settle it first; another pack goes on under its own.",
    };
  }
  const early = whyTooEarly(placedAt, hoursToStay(place, neededHours), now);
  if (early !== null) return { kind: "refused", why: "too-early", sentence: early };
  if (verdict.kind === "no-voltage") {
    const sentence =
      "The voltage was not measured at the beginning and the end, and nobody said why it was not safe to. Begin the watch anew.";
    return { kind: "refused", why: "not-watched", sentence };
  }
  if (verdict.kind !== "steady") {
    return {
      kind: "refused",
      why: "not-watched",
      sentence: `Temperature and voltage were not followed for ${neededHours} hours, so nobody can say that it is steady.`,
    };
  }
  const missed = tasks.filter(({ state }) => state !== "done").map(({ afterHours }) => `${afterHours} h`);
  if (missed.length > 0) {
    const sentence = `Not measured after ${missed.join(" and ")}. Begin the watch anew, with the reason why it was missed.`;
    return { kind: "refused", why: "measurement-missed", sentence };
  }
  if (missingFaces.length > 0 && noFacesBecause === null) {
    const sentence = `Photograph these faces before it can be opened, or say why not: ${missingFaces.join(", ")}.`;
    return { kind: "refused", why: "faces-missing", sentence };
  }
  return { kind: "released" };
}

/**
 * Whether the stay itself is overdue. A pack that is watched for longer than the place asks for gets as much time after its watch as
 * another: an alarm that comes before anybody may take it out teaches people to pass over alarms.
 */
export function isOverdue(place: QuarantinePlace, neededHours: number, placedAt: Date, now: Date): boolean {
  const watchedLonger = hoursToStay(place, neededHours) - place.minimumHours;
  return now.getTime() - placedAt.getTime() > (place.overdueAfterHours + watchedLonger) * HOUR_MS;
}
