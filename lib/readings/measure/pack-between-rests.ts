import { type CapacityBetweenRests, restError } from "@/lib/readings/measure/capacity-between-rests";
import { median } from "@/lib/readings/measure/median";
import { differenceDoubt, type OpenCircuitCurve, socAtVoltage } from "@/lib/readings/measure/open-circuit";
import type { RestPeriod } from "@/lib/readings/measure/rest-periods";

export interface PackBetweenRests {
  /** What the whole pack gives from its first full to its first empty group, Ah; 0 where one is empty as another is full. */
  readonly usableAh: number;
  readonly usableErrorAh: number;
  /** Capacity of the group that holds least, Ah: what is left of the pack where its groups were level. */
  readonly groupAh: number;
  readonly groupErrorAh: number;
  /** Groups whose charge at rest stands off the others' beyond its error. */
  readonly offGroups: readonly number[];
}

/** Standard errors by which a group's charge must stand off the median group's to count as its own (engineering default, no authority). */
const OFF_SIGMAS = 3;

/**
 * Capacity of the whole pack from two rests: min(SoC_k Q_k) + min((1 - SoC_k) Q_k) over its groups, since the emptiest ends a ride and
 * the fullest ends a charge.
 *
 * Q_k is the median group's capacity but for the `weak` groups, which have their own: of some twenty noisy numbers the lowest is low by
 * chance. For the same reason SoC_k is the median group's unless it stands off by more than its error. `doubtful` groups count for
 * nothing. The error is that of one group, which the median of many does not exceed. Null where no capacity is known.
 */
export function packBetweenRests(
  rests: CapacityBetweenRests,
  curve: OpenCircuitCurve,
  { weak, doubtful }: { readonly weak: ReadonlySet<number>; readonly doubtful: ReadonlySet<number> },
): PackBetweenRests | null {
  const groups = Array.from(rests.capacityAh, (_, index) => index + 1).filter((group) => !doubtful.has(group));
  const capacityOf = (group: number) => rests.capacityAh[group - 1] ?? Number.NaN;
  const usualAh = median(groups.map(capacityOf));
  const usualErrorAh = median(groups.map((group) => rests.errorAh[group - 1] ?? Number.NaN));
  if (usualAh === null || usualErrorAh === null) return null;
  const charges = clearerCharges(rests, curve, groups);
  const known = groups.flatMap((group, at): HeldCharge[] => {
    const own = weak.has(group) ? capacityOf(group) : usualAh;
    const charge = charges[at];
    if (charge === undefined || !Number.isFinite(own)) return [];
    const errorAh = weak.has(group) ? (rests.errorAh[group - 1] ?? usualErrorAh) : usualErrorAh;
    return [{ group, ...charge, ownAh: own, errorAh }];
  });
  const [first] = known;
  if (first === undefined) return null;
  const least = (held: (one: HeldCharge) => number) => known.reduce((low, one) => (held(one) < held(low) ? one : low));
  const empties = least(({ percent, ownAh }) => percent * ownAh);
  const fills = least(({ percent, ownAh }) => (100 - percent) * ownAh);
  const usableAh = (empties.percent * empties.ownAh + (100 - fills.percent) * fills.ownAh) / 100;
  const offsetErrorAh = [empties, fills].map((one) => (one.isOff ? (one.error * one.ownAh) / 100 : 0));
  const smallest = least(({ ownAh }) => ownAh);
  return {
    usableAh,
    groupAh: smallest.ownAh,
    groupErrorAh: smallest.errorAh,
    usableErrorAh: Math.hypot(Math.max(empties.errorAh, fills.errorAh), ...offsetErrorAh),
    offGroups: known.filter(({ isOff }) => isOff).map(({ group }) => group),
  };
}

interface HeldCharge extends RestCharge {
  readonly group: number;
  readonly ownAh: number;
  readonly errorAh: number;
}

interface RestCharge {
  readonly percent: number;
  /** Standard uncertainty of its distance to the median group, %. */
  readonly error: number;
  readonly isOff: boolean;
}

/** Charge of each group at that one of the two rests where the curve tells it better. */
function clearerCharges(
  { from, to }: CapacityBetweenRests,
  curve: OpenCircuitCurve,
  groups: readonly number[],
): readonly RestCharge[] {
  const doubt = (rest: RestPeriod) => restError(curve, socAtVoltage(curve, rest.referenceV), rest.restedS);
  const rest = doubt(from) <= doubt(to) ? from : to;
  const usual = socAtVoltage(curve, rest.referenceV);
  return groups.map((group) => {
    const own = socAtVoltage(curve, rest.groupV[group - 1] ?? Number.NaN);
    const error = Math.hypot(restError(curve, own, rest.restedS), differenceDoubt(curve, own, usual));
    const isOff = Math.abs(own - usual) > OFF_SIGMAS * error;
    return { percent: isOff ? own : usual, error, isOff };
  });
}
