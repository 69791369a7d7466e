import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { counted, inDigits, inTime } from "@/lib/diagnosis/wording";
import { restCurrentOffset } from "@/lib/readings/measure/rest-current-offset";

/** Drift of the groups while parked, and what the current sensor reads while nothing flows. */
export function restMeasurements(evidence: Evidence): Measurement[] {
  return [...drifts(evidence), ...offset(evidence)];
}

function drifts(evidence: Evidence): Measurement[] {
  const drift = evidence.drift ?? evidence.shortDrift;
  if (drift === null) return [];
  const conditions = `${drift.rests} rests, ${inTime(drift.days * 86400)} after relaxation, median group at ${inDigits(drift.referenceV, 3)} V`;
  return Array.from(drift.millivoltPerDay, (rate, index) => ({
    name: "rest-drift",
    group: index + 1,
    value: rate,
    unit: "mV/day",
    uncertainty: drift.errorMillivoltPerDay[index] ?? null,
    method: "Theil-Sen slope of the deviation from the median group",
    conditions,
  }));
}

function offset(evidence: Evidence): Measurement[] {
  const found = restCurrentOffset(evidence.survey);
  if (found === null) return [];
  return [
    {
      name: "rest-current",
      group: null,
      value: found.offsetA,
      unit: "A",
      uncertainty: found.errorA,
      method: "mean current of rests of 10 min and more",
      conditions: `${counted(found.rests, "rest")}, ${counted(found.rows, "row")}; sensor offset and draw of the electronics together`,
    },
  ];
}
