import { offsetDoubt, shortfallError } from "@/lib/diagnosis/capacity-shares";
import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { type Compared, compareGroups } from "@/lib/diagnosis/group-comparison";
import { lostCharge } from "@/lib/diagnosis/lost-charge";
import { unlikePatterns } from "@/lib/diagnosis/unlike-pattern";
import { confidence, inDigits, inMillivolt, namedGroups } from "@/lib/diagnosis/wording";
import { balancingHours } from "@/lib/readings/measure/balancing-hours";
import { gridSlope } from "@/lib/readings/measure/curve-grid";
import { type GroupStateFit, poorlyFitted } from "@/lib/readings/measure/group-state-fit";
import { median } from "@/lib/readings/measure/median";
import type { ReferenceCharge } from "@/lib/readings/measure/reference-charge";

/** Steps of the resolution by which an offset must have moved a reading besides: a flat curve makes much of little. */
const clearSteps = 2;

interface Offset {
  readonly group: number;
  readonly percent: number;
  readonly atHigh: number;
  readonly atLow: number;
  readonly z: number;
}

/** F8: groups at another state of charge than the rest, by the same amount at both ends, so not for want of capacity. */
export function imbalance(evidence: Evidence): Finding[] {
  const { states, charge, settings } = evidence;
  if (states === null || charge === null) return [];
  const swept = charge.window[1] - charge.window[0];
  const judgedCapacity = swept >= settings.verdict.capacityWindowPercent;
  const pattern = fromPattern(evidence, states, charge, judgedCapacity);
  const found = pattern.length > 0 ? pattern : fromRests(evidence, judgedCapacity ? states : null);
  const worst = found.toSorted((a, b) => Math.abs(b.percent) - Math.abs(a.percent))[0];
  return worst === undefined ? fromShape(evidence) : [toFinding(evidence, found, worst, judgedCapacity, swept)];
}

/** Belief in an offset told by its shape alone, no fit behind it. Engineering default. */
const byShape = 0.4;

/** No fit holds, but the groups stay behind only where the pack is fullest. */
function fromShape(evidence: Evidence): Finding[] {
  const behind = unlikePatterns(evidence).filter(({ likely }) => likely === "imbalance");
  const worst = behind.toSorted((a, b) => a.highV - b.highV)[0];
  if (worst === undefined) return [];
  return [
    {
      fault: "imbalance",
      groups: behind.map(({ group }) => group),
      confidence: confidence(byShape),
      safetyClass: "U",
      evidenceFor: [
        `Group ${worst.group} lies ${inMillivolt(worst.highV)} from the group in the middle where the pack is fullest and ${inMillivolt(worst.lowV)} where it is emptiest: it is not as full as the others.`,
      ],
      evidenceAgainst: [
        "How far off its charge is could not be told: the voltage hardly changes with charge there, or how it does is not known for this model.",
        "No rest that excludes a slow leak was logged.",
      ],
      nextTest:
        "Rest of 7 days with balancing off, voltages once a day: a group that keeps falling leaks. Balance nothing before.",
    },
  ];
}

function fromPattern(
  evidence: Evidence,
  states: GroupStateFit,
  charge: ReferenceCharge,
  judgedCapacity: boolean,
): Offset[] {
  const limits = evidence.settings.verdict;
  const middleShortfall = median(states.groups.map((state) => state?.shortfall.estimate ?? Number.NaN)) ?? 0;
  const steepest = charge.socPercent.reduce((most, percent) => Math.max(most, gridSlope(charge.grid, percent)), 0);
  const leastV = limits.imbalanceClearV + clearSteps * (median(evidence.survey.resolutionV) ?? 0);
  const poor = poorlyFitted(states);
  return comparedOffsets(evidence, states).flatMap((one): Offset[] => {
    // An offset that describes the group badly is not what ails it.
    if (poor.has(one.group) && one.standardError > limits.imbalancePoorPercent) return [];
    const shortfall = (states.groups[one.group - 1]?.shortfall.estimate ?? 0) - middleShortfall;
    const atHigh = one.excess + shortfall * (charge.window[1] - states.centrePercent);
    const atLow = one.excess + shortfall * (charge.window[0] - states.centrePercent);
    if (!stands(evidence, one) || Math.abs(one.excess) * steepest < leastV) return [];
    // The same offset at both ends; where it vanishes at one end a capacity is short, not a charge off.
    const least = Math.min(Math.abs(atHigh), Math.abs(atLow));
    if (judgedCapacity && (atHigh * atLow <= 0 || least < 0.6 * limits.imbalancePercent)) return [];
    return [{ group: one.group, percent: one.excess, atHigh, atLow, z: one.z }];
  });
}

/** Offset of each group's charge against the median group's, by the fit of the whole log, %. */
export function comparedOffsets(evidence: Evidence, { groups }: GroupStateFit): Compared[] {
  const offsets = groups.map((state) => state?.offsetPercent.estimate ?? Number.NaN);
  const errors = groups.map((state) => state?.offsetPercent.sd ?? Number.NaN);
  return compareGroups(evidence, offsets, errors, evidence.settings.verdict.imbalanceLeastScatterPercent);
}

/** Rest voltages alone, where the curve is too flat for a pattern; the rests that tell must agree, and the fit of the whole log, if any, must not know better. */
function fromRests(evidence: Evidence, states: GroupStateFit | null): Offset[] {
  const { restOffsets: offsets, settings } = evidence;
  if (offsets === null) return [];
  const values = offsets.map((offset) => offset?.percent ?? Number.NaN);
  const errors = offsets.map((offset) => offset?.error ?? Number.NaN);
  const scatter = settings.verdict.imbalanceLeastScatterPercent;
  return compareGroups(evidence, values, errors, scatter).flatMap((one): Offset[] => {
    const range = offsets[one.group - 1]?.range ?? 0;
    if (!stands(evidence, one) || range > 0.6 * Math.abs(one.excess)) return [];
    const whole = states?.groups[one.group - 1]?.offsetPercent;
    const isDenied =
      whole !== undefined &&
      whole.sd <= settings.verdict.imbalancePoorPercent &&
      Math.abs(whole.estimate) <= settings.verdict.imbalanceDeniedPercent;
    if (isDenied) return [];
    return [{ group: one.group, percent: one.excess, atHigh: one.excess, atLow: one.excess, z: one.z }];
  });
}

function stands(evidence: Evidence, one: Compared): boolean {
  const limits = evidence.settings.verdict;
  const clear =
    Math.abs(one.z) >= limits.imbalanceZ ||
    (Math.abs(one.excess) >= 1.5 * limits.imbalancePercent && Math.abs(one.z) >= limits.imbalanceLeastZ);
  return clear && Math.abs(one.excess) >= Math.max(limits.imbalancePercent, 4 * Math.hypot(one.standardError, 0.4));
}

/** Whether a rest shows that a group holds its charge: also in % of charge, for on a flat curve a leak moves no millivolt. */
function staysPut(evidence: Evidence, group: number): boolean {
  const { drift, settings } = evidence;
  if (drift === null) return false;
  const rate = Math.abs(drift.millivoltPerDay[group - 1] ?? Number.NaN);
  const most = rate + 2 * (drift.errorMillivoltPerDay[group - 1] ?? Number.NaN);
  const lost = lostCharge(evidence, drift, { group, millivoltPerDay: most, error: 0 });
  return (
    rate <= settings.verdict.driftWatchMillivoltPerDay &&
    (lost?.known?.percentPerDay.estimate ?? 0) < settings.verdict.driftPercentPerDay
  );
}

function toFinding(
  evidence: Evidence,
  found: readonly Offset[],
  worst: Offset,
  judgedCapacity: boolean,
  swept: number,
): Finding {
  const severe = Math.abs(worst.percent) >= evidence.settings.verdict.severeImbalancePercent;
  const groups = found.map((one) => one.group);
  const calm = groups.every((group) => staysPut(evidence, group));
  const belief =
    0.6 + 0.02 * Math.min(10, Math.abs(worst.percent) - 5) + (judgedCapacity ? 0.12 : -0.08) + (calm ? 0.1 : 0);
  return {
    fault: "imbalance",
    groups,
    confidence: confidence(belief),
    // Benign only where a rest excludes a leak: balancing first would hide it.
    safetyClass: severe ? "B" : calm ? "C" : "U",
    evidenceFor: [
      `Group ${worst.group} stands ${inDigits(Math.abs(worst.percent), 1)} % of charge ${worst.percent < 0 ? "below" : "above"} the group in the middle, ${inDigits(Math.abs(worst.z), 0)} times as far off as sound groups differ.`,
      ...(judgedCapacity
        ? [
            `The offset is alike at both ends of the ${inDigits(swept, 0)} % of charge swept: ${inDigits(worst.atHigh, 1)} % at the high end, ${inDigits(worst.atLow, 1)} % at the low end${sayCapacity(evidence, worst.group, swept)}.`,
          ]
        : []),
      ...(calm ? ["The offset does not grow while the pack rests."] : []),
      ...(found.length > 1 ? [`${found.length} groups are off: ${namedGroups(groups)}.`] : []),
    ],
    evidenceAgainst: [
      ...(judgedCapacity
        ? []
        : [`Only ${inDigits(swept, 0)} % of charge was swept: a weak cell cannot be told from an offset.`]),
      ...(calm ? [] : ["No rest that excludes a slow leak was logged."]),
      ...(severe ? ["An offset this large is not to be balanced away before its cause is known."] : []),
    ],
    nextTest: nextTest(evidence, worst, calm && !severe, judgedCapacity),
  };
}

/** "; it holds 97 % of what the group in the middle holds (± 3 points)": one standard error, the curve's part in it. */
function sayCapacity(evidence: Evidence, group: number, swept: number): string {
  const { states } = evidence;
  const own = states?.groups[group - 1];
  const middle = median(states?.groups.map((state) => state?.shortfall.estimate ?? Number.NaN) ?? []);
  if (own === undefined || own === null || middle === null) return "; its capacity is not known";
  const ratio = 1 / (1 + own.shortfall.estimate - middle);
  const points = 100 * ratio ** 2 * shortfallError(own.shortfall.sd, swept, offsetDoubt(evidence, group));
  return `; it holds ${inDigits(100 * ratio, 0)} % of what the group in the middle holds (± ${inDigits(points, 0)} points)`;
}

/** A leak is excluded before a weak cell is, and a weak cell before anything is balanced. */
function nextTest(evidence: Evidence, worst: Offset, isCalm: boolean, judgedCapacity: boolean): string {
  if (!isCalm)
    return "Rest of 7 days with balancing off, voltages once a day: a group that keeps falling leaks. Balance nothing before.";
  if (!judgedCapacity)
    return "Two rests of 2 h at least 40 % of charge apart: capacity of every group separates a weak cell from an offset.";
  const { balanceCurrentA } = evidence.settings.measure;
  const hours = balancingHours(evidence.model.ratedCapacityAh, Math.abs(worst.percent), balanceCurrentA);
  return `Supervised balance charge, about ${inDigits(hours, 0)} h at ${inDigits(1000 * balanceCurrentA, 0)} mA without a break, then 7 days of rest and a second look.`;
}
