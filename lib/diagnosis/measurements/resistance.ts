import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { inDigits } from "@/lib/diagnosis/wording";
import { defaultStepGates, loadSteps, stepResistance } from "@/lib/readings/measure/load-step-resistance";
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
    uncertainty: resistance.excessErrorMilliohm[index] ?? null,
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

function atSteps(evidence: Evidence): Measurement[] {
  const { log, gates, medianIntervalS, ratedCapacityAh } = evidence.survey;
  const leastChangeA = defaultStepGates.leastChangeA * ratedCapacityAh;
  const found = loadSteps(log.timeS, log.currentA, log.segment, { ...defaultStepGates, leastChangeA });
  if (found.length === 0 || evidence.resistance.outcome === "refused") return [];
  const sizes = median(found.map((step) => Math.abs(step.toA - step.fromA))) ?? 0;
  return statedTimesS.flatMap((afterS) => {
    if (medianIntervalS > 1.2 * afterS) return [];
    const whole: readonly [number, number] = [1, Number.POSITIVE_INFINITY];
    const columns = [
      { group: null, volts: log.packVoltageV, plausibleV: whole },
      ...log.cellVoltagesV.map((volts, index) => ({ group: index + 1, volts, plausibleV: gates.cellPlausibleV })),
    ];
    return columns.flatMap(({ group, volts, plausibleV }): Measurement[] => {
      const read = stepResistance(log.timeS, log.currentA, volts, found, afterS, plausibleV);
      if (read === null) return [];
      return [
        {
          name: `resistance-${afterS}s`,
          group,
          value: read.ohm * 1000,
          unit: "mOhm",
          uncertainty: read.errorOhm === null ? null : read.errorOhm * 1000,
          method: `(V before - V ${afterS} s after) / (I before - I after), median over load steps`,
          conditions: `${read.steps} steps, typically ${inDigits(sizes, 0)} A`,
        },
      ];
    });
  });
}
