import { type KaplanMeierCurve, kaplanMeier } from "@/lib/stats/kaplan-meier";
import type { ExclusionReason } from "./exposure";
import { type FailureCurvePoint, failureCurve } from "./failure-curve";
import { type FailureEstimate, failureEstimate } from "./failure-estimate";
import type { UnitHistory } from "./first-event";
import { MILESTONE_MONTHS } from "./months-in-service";
import { revisionSentence } from "./revision-sentence";
import { type EqualPacks, emptyRevisionTally, type RevisionTally, tallyRevisions } from "./revision-tally";

/** What the build and dispatch records say of a revision, in the order in which reports shall list them. */
export interface RevisionVolume {
  readonly revisionCode: string;
  readonly packsBuilt: number;
  readonly packsDispatched: number;
}

export interface RevisionReport {
  readonly revisionCode: string;
  readonly packsBuilt: number;
  readonly packsDispatched: number;
  /** Packs that have been in use and watched for at least a day: what all probabilities here rest on. */
  readonly packsInService: number;
  readonly failures: number;
  readonly undecidedReturns: number;
  readonly excluded: readonly { readonly reason: ExclusionReason; readonly packs: number }[];
  /** Share failed by 3, 6, 12 and 24 months in use. */
  readonly estimates: readonly FailureEstimate[];
  readonly naive: NaiveReturnRatio;
  readonly sentence: string;
  readonly points: readonly FailureCurvePoint[];
  /** The survival curve itself, for the row of numbers at risk and for comparisons. */
  readonly curve: KaplanMeierCurve;
}

/**
 * Returns divided by dispatched packs, shown only so that a reader who knows it from elsewhere sees what is wrong with
 * it: it mixes packs of all ages, counts stock as survivors and no-fault-found returns as failures, and always
 * flatters the newest revision.
 */
export interface NaiveReturnRatio {
  readonly returns: number;
  readonly dispatched: number;
  /** null where nothing was dispatched. */
  readonly ratio: number | null;
}

/**
 * Answers for each revision: how many packs are out there, how many failed, and which share fails by equal ages.
 *
 * Histories are turned into exposures by `exposureOf`, counted, and estimated by Kaplan-Meier with 95 % limits.
 * @param volumes one per revision; reports come in this order.
 * @param histories single packs with their serials: at least every pack that ever came back.
 * @param equalPacks packs without returns, grouped by equal dates (a pack is in one list or the other, never in both).
 * Throws a RangeError where a history names a revision that `volumes` does not.
 */
export function revisionReports(
  volumes: readonly RevisionVolume[],
  histories: Iterable<UnitHistory>,
  equalPacks: Iterable<EqualPacks> = [],
): RevisionReport[] {
  const tallies = tallyRevisions(histories, equalPacks);
  const known = new Set(volumes.map((volume) => volume.revisionCode));
  for (const revisionCode of tallies.keys()) {
    if (!known.has(revisionCode)) throw new RangeError(`revision ${revisionCode} has histories but no volume`);
  }
  return volumes.map((volume) => reportOf(volume, tallies.get(volume.revisionCode) ?? emptyRevisionTally()));
}

function reportOf(volume: RevisionVolume, tally: RevisionTally): RevisionReport {
  const { inService, failures, undecidedReturns, returns } = tally;
  const curve = kaplanMeier(tally.lives.counts());
  const estimates = MILESTONE_MONTHS.map((months) => failureEstimate(curve, months));
  const { revisionCode, packsDispatched } = volume;
  return {
    ...volume,
    packsInService: inService,
    failures,
    undecidedReturns,
    excluded: [...tally.excluded].map(([reason, packs]) => ({ reason, packs })),
    estimates,
    naive: {
      returns,
      dispatched: packsDispatched,
      ratio: packsDispatched > 0 ? returns / packsDispatched : null,
    },
    sentence: revisionSentence({ revisionCode, inService, failures, undecidedReturns, estimates }),
    points: failureCurve(curve),
    curve,
  };
}
