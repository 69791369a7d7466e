import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { soundProbes } from "@/lib/diagnosis/heat-spread";
import { inDigits } from "@/lib/diagnosis/wording";
import {
  defaultStepGates,
  gatesForSampling,
  loadSteps,
  stepResistance,
} from "@/lib/readings/measure/load-step-resistance";
import { median } from "@/lib/readings/measure/median";

/** Times after a step at which a resistance is stated, s. */
const statedTimesS = [1, 10] as const;

/** Resistance of pack and groups: by regression of differences, and at 1 s and 10 s after clean load steps. */
export function resistanceMeasurements(evidence: Evidence): Measurement[] {
  return [...byRegression(evidence), ...atSteps(evidence)];
}

function byRegression(evidence: Evidence): Measurement[] {
  if (evidence.resistance.outcome === "refused") return [];
  const { resistance } = evidence.resistance;
  const interval = `${inDigits(evidence.survey.medianIntervalS, 1)} s sampling`;
  const method = "slope of voltage differences on current differences of neighbouring rows";
  const conditions = `${resistance.pairs} pairs of at least ${inDigits(resistance.leastChangeA, 1)} A, ${interval}`;
  const groups = Array.from(resistance.milliohm, (milliohm, index) => ({
    name: "resistance-regression",
    group: index + 1,
    value: milliohm,
    unit: "mOhm",
    // A group is the median group and its excess: what both are known to.
    uncertainty: Math.hypot(resistance.excessErrorMilliohm[index] ?? Number.NaN, resistance.medianErrorMilliohm ?? 0),
    method,
    conditions,
  }));
  const whole = (name: string, value: number | null, uncertainty: number | null, how = method): Measurement[] =>
    value === null ? [] : [{ name, group: null, value, unit: "mOhm", uncertainty, method: how, conditions }];
  return [
    ...whole("resistance-regression-median", resistance.medianMilliohm, resistance.medianErrorMilliohm),
    ...whole("resistance-regression-pack", resistance.packMilliohm, resistance.packErrorMilliohm),
    ...whole("resistance-regression-sum", resistance.sumMilliohm, resistance.sumErrorMilliohm, "sum over the groups"),
    ...whole(
      "resistance-outside-groups",
      resistance.packMilliohm === null ? null : resistance.packMilliohm - resistance.sumMilliohm,
      Math.hypot(resistance.packErrorMilliohm ?? Number.NaN, resistance.sumErrorMilliohm),
      "pack slope minus sum of group slopes: leads, fuse, switches, and skew of sampling",
    ),
    ...groups,
  ];
}

/** What a step must be to count, and how many. Engineering defaults: outside them steps of one pack do not compare. */
const leastSteps = 5;
const chargePercent: readonly [number, number] = [20, 90];
const warmFromC = 10;

/** Sampling interval over the time stated, up to which a value at that time is stated at all. Engineering default. */
const longestOfStated = 1.2;

/** Steps onto a discharge only: load-off at empty read 1.8 times load-on in an open cell test (NASA PCoE B0005). */
function atSteps(evidence: Evidence): Measurement[] {
  const { log, gates: limits, medianIntervalS, ratedCapacityAh } = evidence.survey;
  if (evidence.resistance.outcome === "refused") return [];
  const leastChangeA = defaultStepGates.leastChangeA * ratedCapacityAh;
  const probes = soundProbes(evidence);
  const charged = percentAt(evidence);
  const warmth = (row: number) => median(probes.map(({ valuesC }) => valuesC[row] ?? Number.NaN));
  const gates = gatesForSampling({ ...defaultStepGates, leastChangeA }, medianIntervalS);
  const isLate = gates.withinS > defaultStepGates.withinS;
  const found = loadSteps(log.timeS, log.currentA, log.segment, gates).filter((step) => {
    if (!(step.toA < step.fromA && step.toA < 0)) return false;
    const percent = charged(step.row);
    const warmC = warmth(step.row);
    const isMiddle = percent === null || (percent >= chargePercent[0] && percent <= chargePercent[1]);
    return isMiddle && (warmC === null || warmC >= warmFromC);
  });
  if (found.length < leastSteps) return [];
  const sizes = median(found.map((step) => Math.abs(step.toA - step.fromA))) ?? 0;
  const stood = [
    saidRange(
      "% of charge",
      found.map(({ row }) => charged(row)),
    ),
    saidRange(
      "degC",
      found.map(({ row }) => warmth(row)),
    ),
  ];
  return statedTimesS.flatMap((afterS) => {
    if (medianIntervalS > longestOfStated * afterS) return [];
    const whole: readonly [number, number] = [1, Number.POSITIVE_INFINITY];
    const columns = [
      { group: null, volts: log.packVoltageV, plausibleV: whole },
      ...log.cellVoltagesV.map((volts, index) => ({ group: index + 1, volts, plausibleV: limits.cellPlausibleV })),
    ];
    return columns.flatMap(({ group, volts, plausibleV }): Measurement[] => {
      const read = stepResistance(
        log.timeS,
        log.currentA,
        volts,
        found,
        afterS,
        plausibleV,
        longestOfStated * Math.max(afterS, 1),
      );
      if (read === null || read.steps < leastSteps) return [];
      return [
        {
          // Values at other times after a step do not compare, so neither do their names.
          name: isLate ? `resistance-${afterS}s-or-later` : `resistance-${afterS}s`,
          group,
          value: read.ohm * 1000,
          unit: "mOhm",
          uncertainty: read.errorOhm === null ? null : read.errorOhm * 1000,
          method: `(V before - V ${afterS} s after) / (I before - I after), median over load steps`,
          conditions: `${isLate ? `read ${afterS} to ${inDigits(afterS + medianIntervalS, 0)} s after the step, ` : ""}${read.steps} steps onto discharge, typically ${inDigits(sizes, 0)} A, ${stood.join(", ")}`,
        },
      ];
    });
  });
}

/** "20 to 88 % of charge"; said as well where it is not known. */
function saidRange(unit: string, values: readonly (number | null)[]): string {
  const known = values.filter((value) => value !== null);
  if (known.length === 0) return `${unit} not known`;
  return `${inDigits(Math.min(...known), 0)} to ${inDigits(Math.max(...known), 0)} ${unit}`;
}

/** % of charge at a row, by the last row before it that the charge was followed at; null where it was not. */
function percentAt({ charge }: Evidence): (row: number) => number | null {
  if (charge === null) return () => null;
  const { rows, socPercent } = charge;
  return (row) => {
    let low = 0;
    let high = rows.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((rows[middle] ?? 0) <= row) low = middle;
      else high = middle - 1;
    }
    const percent = socPercent[low] ?? Number.NaN;
    return Number.isFinite(percent) ? percent : null;
  };
}
