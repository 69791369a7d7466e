import {
  type Estimate,
  fitGroupStates,
  type GroupStateFit,
  poorlyFitted,
} from "@/lib/readings/measure/group-state-fit";
import type { OpenCircuitCurve } from "@/lib/readings/measure/open-circuit";
import { possibleCapacity, type ReferenceCharge, referenceCharge } from "@/lib/readings/measure/reference-charge";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface ChargeFollowed {
  readonly charge: ReferenceCharge;
  readonly states: GroupStateFit;
}

/** Shares of the rated capacity at which the scale of charge is tried, most first. Engineering defaults: as new to well used. */
const capacitiesTried: readonly number[] = [1.1, 1.05, 1, 0.95, 0.9, 0.85, 0.8, 0.75];
/** Share of what the groups are missed by that another scale must leave at most to be believed. Engineering default. */
const believedBelow = 0.85;
/** Multiple of the least misfit up to which another scale describes the log as well. Engineering default. */
const asGood = 1.25;
/** Share of the scale to which trying tells it: the step of what is tried. */
const toldTo = 0.05;

/**
 * Charge of the median group and the state of every group. The median group's own voltage tells the scale of charge, % per Ah, poorly where
 * the curve is flat or hardly a rest was logged. But every group walks along the same curve: one that stands elsewhere on it, by its size or
 * its charge, shows its bends as well. So where a group fits no cause at the scale the median group gives, other scales are tried, and one
 * is taken that describes the groups better, all in all and in that group. `null` where charge cannot be followed at all.
 */
export function followCharge(survey: RowSurvey, curve: OpenCircuitCurve): ChargeFollowed | null {
  const charge = referenceCharge(survey, curve);
  if (charge === null) return null;
  const isOwn = curve.source === "pack model";
  const states = fitGroupStates(survey, charge, isOwn);
  const unlike = poorlyFitted(states).size;
  // A curve that is not the pack's own is surely wrong somewhere: the count and the rated capacity are the better witness of the scale.
  if (unlike === 0 || !isOwn) return { charge, states };
  const atMost = believedBelow * meanMisfit(states);
  const better = capacitiesTried
    .filter((share) => share >= possibleCapacity[0] && share <= possibleCapacity[1])
    .flatMap((share) => followedAt(survey, curve, 100 / survey.ratedCapacityAh / share, charge) ?? [])
    .filter((tried) => poorlyFitted(tried.states).size < unlike && meanMisfit(tried.states) < atMost)
    .toSorted((a, b) => meanMisfit(a.states) - meanMisfit(b.states));
  const [best] = better;
  if (best === undefined) return { charge, states };
  const alsoPossible = better.filter(({ states: its }) => meanMisfit(its) <= asGood * meanMisfit(best.states));
  return { charge: best.charge, states: withDoubtOf(best.states, alsoPossible) };
}

/** What a group differs by is known no better than scales that describe the log as well agree on it: as of an even spread, range / sqrt(12). */
function withDoubtOf(best: GroupStateFit, possible: readonly ChargeFollowed[]): GroupStateFit {
  const doubted = (index: number, name: "offsetPercent" | "shortfall"): Estimate => {
    const own = best.groups[index]?.[name] ?? { estimate: Number.NaN, sd: Number.NaN };
    const all = possible.map(({ states }) => states.groups[index]?.[name].estimate ?? own.estimate);
    return { ...own, sd: Math.hypot(own.sd, (Math.max(...all) - Math.min(...all)) / Math.sqrt(12)) };
  };
  return {
    ...best,
    groups: best.groups.map((state, index) =>
      state === null
        ? null
        : { ...state, offsetPercent: doubted(index, "offsetPercent"), shortfall: doubted(index, "shortfall") },
    ),
  };
}

function followedAt(
  survey: RowSurvey,
  curve: OpenCircuitCurve,
  percentPerAh: number,
  before: ReferenceCharge,
): ChargeFollowed | null {
  const charge = referenceCharge(survey, curve, percentPerAh);
  if (charge === null) return null;
  const states = fitGroupStates(survey, charge, true);
  // The two ways of telling the scale disagree by this much, and trying tells it no finer than its steps.
  const percentPerAhError = Math.max(toldTo * percentPerAh, Math.abs(percentPerAh - before.percentPerAh));
  return { charge: { ...charge, percentPerAhError }, states };
}

function meanMisfit({ groups }: GroupStateFit): number {
  const misfits = groups.flatMap((state) => (state === null ? [] : [state.misfit]));
  return misfits.reduce((sum, one) => sum + one, 0) / Math.max(1, misfits.length);
}
