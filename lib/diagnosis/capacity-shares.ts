import type { Evidence } from "@/lib/diagnosis/evidence";
import { type Compared, compareGroups } from "@/lib/diagnosis/group-comparison";
import { oncePerEvidence } from "@/lib/diagnosis/once-per-evidence";
import { inDigits } from "@/lib/diagnosis/wording";
import { poorlyFitted } from "@/lib/readings/measure/group-state-fit";
import { median } from "@/lib/readings/measure/median";

/**
 * What a fitted shortfall is known to, as a share: its own error, what the curve leaves, which weighs more the less was swept, and
 * what an offset of charge makes of a curve that is not the pack's own (`offsetDoubt`).
 */
export function shortfallError(standardError: number, sweptPercent: number, offsetShare = 0): number {
  return Math.hypot(standardError, 0.01 * (100 / sweptPercent), offsetShare);
}

/**
 * Share of capacity by which an offset of charge may look like a shortfall where the curve is not the pack's own. A group that stands
 * off is read at another place of the curve than the group in the middle; where the slope there is wrong against the slope here, its
 * charge seems to move further or less far by that share of the offset over the half of what was swept. 0 for the model's own curve.
 */
export function offsetDoubt({ states, charge, curve, settings }: Evidence, group: number): number {
  if (states === null || charge === null || curve?.source === "pack model") return 0;
  const offsets = states.groups.map((state) => state?.offsetPercent.estimate ?? Number.NaN);
  const apart = Math.abs((offsets[group - 1] ?? Number.NaN) - (median(offsets) ?? 0));
  const halfSwept = (charge.window[1] - charge.window[0]) / 2;
  return Number.isFinite(apart) && halfSwept > 0 ? (settings.verdict.genericSlopeShare * apart) / halfSwept : 0;
}

/** Ratio to the median group's capacity that is weak. Where the scale of charge is not sure, by a curve not the pack's own or a count that lacks too much, less is. */
export function weakRatio({ curve, survey, settings }: Pick<Evidence, "curve" | "survey" | "settings">): number {
  const { weakCapacityRatio, weakCapacityRatioGeneric, timeCoverage } = settings.verdict;
  const isSure = curve?.source === "pack model" && 1 - survey.currentMissingShare >= timeCoverage;
  return isSure ? weakCapacityRatio : weakCapacityRatioGeneric;
}

/** What a group holds as a share of the median group's capacity, and its standard error. */
interface Share {
  readonly ratio: number;
  readonly error: number;
}

interface FittedShortfall extends Share {
  readonly group: number;
  readonly excess: number;
  readonly z: number;
  readonly sweptPercent: number;
  /** The same from two rests; null where no pair of rests tells it. */
  readonly rest: Share | null;
}

/** Fit over the whole log: needs no rest, but a sweep of charge. Groups it has weak, whatever two rests say of them. */
export const fittedShortfalls = oncePerEvidence((evidence): readonly FittedShortfall[] => {
  const { states, charge, curve, settings } = evidence;
  if (states === null || charge === null || curve === null) return [];
  const sweptPercent = charge.window[1] - charge.window[0];
  const limits = settings.verdict;
  if (sweptPercent < limits.capacityWindowPercent) return [];
  const limit = weakRatio(evidence);
  const shortfalls = states.groups.map((state) => state?.shortfall.estimate ?? Number.NaN);
  const errors = states.groups.map((state) => state?.shortfall.sd ?? Number.NaN);
  return compareGroups(evidence, shortfalls, errors, limits.weakLeastScatter).flatMap((one) => {
    const ratio = 1 / (1 + one.excess);
    const error = shortfallError(one.standardError, sweptPercent, offsetDoubt(evidence, one.group));
    if (ratio > limit || one.z < limits.weakZ || one.excess < limits.weakSigmas * error) return [];
    const { group, excess, z } = one;
    return [{ group, ratio, error: error * ratio, excess, z, sweptPercent, rest: restRatio(evidence, group) }];
  });
});

/** One measurement has a group sound that the other has weak, further apart than the errors of both explain. */
function denies(sound: Share, weak: Share, limit: number, { settings }: Evidence): boolean {
  const explained = settings.verdict.weakRestSigmas * Math.hypot(sound.error, weak.error);
  return sound.ratio > limit && sound.ratio - weak.ratio > explained;
}

/** Two rests say that the group is not weak, and further from the fit than the errors of both explain. */
export function isContradicted(evidence: Evidence, fitted: FittedShortfall, limit: number): boolean {
  return fitted.rest !== null && denies(fitted.rest, fitted, limit, evidence);
}

/** Groups that one measurement has weak and the other has sound: neither is said of them. */
export function contradictedCapacities(evidence: Evidence): ReadonlyMap<number, string> {
  const fitted = fittedShortfalls(evidence)
    .filter((one) => isContradicted(evidence, one, weakRatio(evidence)))
    .map(({ group, ratio, rest }) => ({ group, ratio, restRatio: rest?.ratio ?? Number.NaN }));
  const rested = weakByRests(evidence).flatMap(({ group, value, whole }) =>
    whole === null ? [] : [{ group, ratio: whole, restRatio: value }],
  );
  return new Map(
    [...fitted, ...rested].map(({ group, ratio, restRatio: byRests }) => [
      group,
      `Over the whole log group ${group} looks as if it held ${inDigits(ratio * 100, 0)} % of what the group in the middle holds, between two rests ${inDigits(byRests * 100, 0)} %: the two contradict each other. Measure its capacity from full to empty at C/5, with 2 h of rest at both ends.`,
    ]),
  );
}

interface WeakByRests extends Compared {
  /** Share of the middle group's capacity by which the fit of the whole log denies it; null where it does not. */
  readonly whole: number | null;
}

/** Groups that two rests have weak, whatever the whole log says of them. */
export const weakByRests = oncePerEvidence((evidence): readonly WeakByRests[] => {
  const shares = restShares(evidence);
  if (shares === null) return [];
  const { weakCapacityRatio, weakZ, weakSigmas, weakLeastScatter } = evidence.settings.verdict;
  return compareGroups(evidence, shares.ratios, shares.errors, weakLeastScatter)
    .filter(
      ({ value, z, excess, standardError }) =>
        value <= weakCapacityRatio && -z >= weakZ && -excess >= weakSigmas * standardError,
    )
    .map((one) => ({ ...one, whole: deniedByTheWhole(evidence, one) }));
});

/** What a group holds by the fit of the whole log, where that has it sound and further from two rests than both errors explain. */
function deniedByTheWhole(evidence: Evidence, { group, value, standardError }: Compared): number | null {
  const { states, charge, settings } = evidence;
  const state = states?.groups[group - 1];
  if (states === null || charge === null || state === null || state === undefined) return null;
  const { capacityWindowPercent, weakCapacityRatio } = settings.verdict;
  const sweptPercent = charge.window[1] - charge.window[0];
  if (sweptPercent < capacityWindowPercent || poorlyFitted(states).has(group)) return null;
  const middle = median(states.groups.map((one) => one?.shortfall.estimate ?? Number.NaN)) ?? 0;
  const ratio = 1 / (1 + state.shortfall.estimate - middle);
  const error = ratio * shortfallError(state.shortfall.sd, sweptPercent, offsetDoubt(evidence, group));
  const isDenied = denies({ ratio, error }, { ratio: value, error: standardError }, weakCapacityRatio, evidence);
  return isDenied ? ratio : null;
}

/** What two rests say each group holds, as shares of the median group's capacity; null where no pair of rests, or no curve of its own, tells it. */
const restShares = oncePerEvidence(({ restCapacity, curve }) => {
  if (restCapacity === null || curve?.source !== "pack model") return null;
  const middle = median(restCapacity.capacityAh) ?? Number.NaN;
  return {
    ratios: restCapacity.capacityAh.map((one) => one / middle),
    errors: restCapacity.errorAh.map((one) => one / middle),
  };
});

function restRatio(evidence: Evidence, group: number): Share | null {
  const shares = restShares(evidence);
  const ratio = shares?.ratios[group - 1] ?? Number.NaN;
  return Number.isFinite(ratio) ? { ratio, error: shares?.errors[group - 1] ?? 0 } : null;
}
