import { driftWhereFlattest } from "@/lib/diagnosis/drift-percent";
import type { Evidence } from "@/lib/diagnosis/evidence";
import { normal95 } from "@/lib/diagnosis/group-dot";
import type { LeakThresholds } from "@/lib/diagnosis/leak-thresholds";
import { inDigits } from "@/lib/diagnosis/wording";
import { leakCurrentA, shortOhm } from "@/lib/readings/measure/leak-current";
import {
  type OpenCircuitCurve,
  slopeDoubtShare,
  socAtVoltage,
  voltageAtSoc,
} from "@/lib/readings/measure/open-circuit";
import type { DriftOfOneRest, RestDrift } from "@/lib/readings/measure/rest-drift";

/** How fast a group falls against the median group at rest, mV per day, positive; with one standard error. */
export interface Fall {
  readonly group: number;
  readonly millivoltPerDay: number;
  readonly error: number;
}

interface WithLimits {
  readonly estimate: number;
  /** 95 %; the upper one infinite where the curve may be flat. */
  readonly limits: readonly [number, number];
}

/** What a fall at rest comes to by the model's own curve, where the falling group itself stands. Currents at the rated capacity. */
export interface KnownLoss {
  /** % of charge at which the group stands. */
  readonly atPercent: number;
  readonly percentPerDay: WithLimits;
  readonly milliampere: WithLimits;
  /** Ohm across the group that would draw as much. */
  readonly ohm: WithLimits;
}

export interface LostCharge {
  /** % of charge per day at most: the upper limit of what is known, else by the flattest curve of usual cells; may be infinite. */
  readonly mostPercentPerDay: number;
  /** `null` where only a generic curve is known: good enough to be careful by, neither to find a fault nor to give a number. */
  readonly known: KnownLoss | null;
}

/**
 * A fall of one group against the others as charge per day. The curve is read between the voltages at which this group began and ended
 * each rest: a leaking group stands lower than the others, where the same millivolts are other charge. The limits hold the error of the fall,
 * the doubt of the curve's slope and of the place on it. `null` without a curve, or where the model's own is flat.
 */
export function lostCharge(
  { curve, model, settings }: Pick<Evidence, "curve" | "model" | "settings">,
  drift: RestDrift,
  fall: Fall,
): LostCharge | null {
  const last = drift.each.at(-1);
  if (curve === null || last === undefined || !(fall.millivoltPerDay > 0)) return null;
  const groupV = last.referenceV + (last.endMillivolt[fall.group - 1] ?? 0) / 1000;
  if (curve.source !== "pack model") {
    const [, most] = normal95(fall.millivoltPerDay, fall.error) ?? [0, Number.POSITIVE_INFINITY];
    return { mostPercentPerDay: driftWhereFlattest(curve, groupV, most, settings.leak), known: null };
  }
  const { channelV } = settings.measure;
  const lostV = fall.millivoltPerDay / 1000;
  const shifted = (byV: number) => meanPercentPerV(curve, drift.each, fall, byV, settings.leak);
  const [percentPerV, below, above] = [shifted(0), shifted(-channelV), shifted(channelV)];
  if (!(percentPerV > 0 && Number.isFinite(percentPerV))) return null;
  const atPercent = socAtVoltage(curve, groupV);
  const ofSlope = Math.hypot(slopeDoubtShare(curve, atPercent), (above - below) / 2 / percentPerV);
  const range = spread(percentPerV * lostV, Math.hypot(ofSlope, fall.error / fall.millivoltPerDay));
  const percentPerDay = { estimate: percentPerV * lostV, limits: range };
  const milliampere = mapped(
    percentPerDay,
    (percent) => 1000 * (leakCurrentA(model.ratedCapacityAh, lostV, lostV / percent) ?? 0),
  );
  const { estimate, limits } = mapped(milliampere, (current) => shortOhm(groupV, current / 1000));
  const ohm: WithLimits = { estimate, limits: [limits[1], limits[0]] };
  return { mostPercentPerDay: range[1], known: { atPercent, percentPerDay, milliampere, ohm } };
}

/**
 * Whether a fall is too little charge to be a leak, however many millivolts it reads: near empty the curve is steep. Only by the model's own
 * curve and by its upper limit, and never from the millivolts on that set a pack apart. False without a rest to follow.
 */
export function isLittleCharge(evidence: Evidence, drift: RestDrift | null, fall: Fall): boolean {
  const { driftHarmlessPercentPerDay, driftQuarantineMillivoltPerDay } = evidence.settings.verdict;
  if (drift === null || fall.millivoltPerDay >= driftQuarantineMillivoltPerDay) return false;
  const known = lostCharge(evidence, drift, fall)?.known ?? null;
  return known !== null && known.percentPerDay.limits[1] < driftHarmlessPercentPerDay;
}

/** "0.90 to 1.60", "0.90 and more". */
export function sayLimits({ limits: [low, high] }: WithLimits, digits: number): string {
  return Number.isFinite(high)
    ? `${inDigits(low, digits)} to ${inDigits(high, digits)}`
    : `${inDigits(low, digits)} and more`;
}

/** % of charge per V between start and end of the rests, each weighed by its days. */
function meanPercentPerV(
  curve: OpenCircuitCurve,
  rests: readonly DriftOfOneRest[],
  { group, millivoltPerDay }: Fall,
  shiftedV: number,
  { leastSpanPercent }: LeakThresholds,
): number {
  let percentDays = 0;
  let days = 0;
  for (const rest of rests) {
    const endV = rest.referenceV + (rest.endMillivolt[group - 1] ?? Number.NaN) / 1000 + shiftedV;
    const start = socAtVoltage(curve, endV + (millivoltPerDay * rest.days) / 1000);
    const end = socAtVoltage(curve, endV);
    const middle = (start + end) / 2;
    const half = Math.max(leastSpanPercent, (start - end) / 2);
    const roseV = voltageAtSoc(curve, middle + half) - voltageAtSoc(curve, middle - half);
    percentDays += ((2 * half) / roseV) * rest.days;
    days += rest.days;
  }
  return percentDays / days;
}

/** 95 % limits of a positive value known to a share of itself: no less than nothing leaks. */
function spread(estimate: number, share: number): readonly [number, number] {
  const [, times] = normal95(0, share) ?? [0, Number.POSITIVE_INFINITY];
  return [estimate * Math.exp(-times), estimate * Math.exp(times)];
}

function mapped({ estimate, limits: [low, high] }: WithLimits, change: (value: number) => number): WithLimits {
  return { estimate: change(estimate), limits: [change(low), change(high)] };
}
