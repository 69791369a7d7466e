import { chargeToCutOff } from "@/lib/diagnosis/built-beside-found";
import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { heldBetweenRests } from "@/lib/diagnosis/held-between-rests";
import { whyNoCapacity } from "@/lib/diagnosis/rules/weak-cell";
import { inDigits, inTime, namedGroups } from "@/lib/diagnosis/wording";
import { median } from "@/lib/readings/measure/median";
import { roundingOfStep } from "@/lib/readings/measure/resolution";

/** Capacity, charge offsets and spreads. */
export function chargeMeasurements(evidence: Evidence): Measurement[] {
  return [
    ...betweenRests(evidence),
    ...usableBetweenRests(evidence),
    ...packCapacity(evidence),
    ...fitted(evidence),
    ...spreads(evidence),
  ];
}

function betweenRests(evidence: Evidence): Measurement[] {
  const { restCapacity, curve } = evidence;
  if (restCapacity === null || curve === null) return [];
  const conditions = `${inDigits(restCapacity.movedAh, 1)} Ah, ${inDigits(restCapacity.windowPercent, 0)} % of charge, rests of ${inTime(restCapacity.from.restedS)} and ${inTime(restCapacity.to.restedS)}, ${curve.source} curve`;
  const method = "charge moved between two rests over the change of charge by open-circuit voltage";
  return Array.from(restCapacity.capacityAh, (capacityAh, index) => ({
    name: "capacity-between-rests",
    group: index + 1,
    value: capacityAh,
    unit: "Ah",
    uncertainty: restCapacity.errorAh[index] ?? null,
    method,
    conditions,
  }));
}

/** No capacity by its name: charges that differ take from it, and a balance charge gives that back. */
function usableBetweenRests(evidence: Evidence): Measurement[] {
  const held = heldBetweenRests(evidence);
  if (held === null) return [];
  const off =
    held.offGroups.length === 0 ? "charges alike" : `${namedGroups(held.offGroups)} charged unlike the others`;
  return [
    {
      name: "usable-charge-between-rests",
      group: null,
      value: held.usableAh,
      unit: "Ah",
      uncertainty: Math.hypot(held.usableErrorAh, evidence.settings.measure.currentGainShare * held.usableAh),
      method: "least charge that any group gives until empty plus least that any takes until full",
      conditions: `${off}; the middle group's capacity for all that are not found weak`,
    },
  ];
}

function packCapacity(evidence: Evidence): Measurement[] {
  const { fullDischarge, model, settings } = evidence;
  if (fullDischarge === null) return [];
  const whyNot = whyNoCapacity(evidence, fullDischarge);
  return [
    {
      name: whyNot === null ? "capacity-full-discharge" : chargeToCutOff,
      group: null,
      value: fullDischarge.capacityAh,
      unit: "Ah",
      uncertainty: settings.measure.currentGainShare * fullDischarge.capacityAh,
      method: "charge from full to the first group at its cut-off, that first row included",
      conditions: `mean ${inDigits(-fullDischarge.meanCurrentA, 1)} A, cut-off ${inDigits(model.cellMinV, 2)} V${whyNot === null ? "" : `; no capacity: ${whyNot}`}`,
    },
  ];
}

function fitted(evidence: Evidence): Measurement[] {
  const { states, charge, curve, settings } = evidence;
  if (states === null || charge === null || curve === null) return [];
  const swept = charge.window[1] - charge.window[0];
  const conditions = `${inDigits(charge.window[0], 0)} to ${inDigits(charge.window[1], 0)} % of charge, ${charge.rows.length} rows, ${curve.source} curve`;
  const method = "joint fit of offset, capacity, resistance, shift and drift to the deviation from the median group";
  const one = (name: string, group: number, value: number, uncertainty: number, unit: string): Measurement => ({
    name,
    group,
    value,
    unit,
    uncertainty,
    method,
    conditions,
  });
  const middle = median(states.groups.map((state) => state?.offsetPercent.estimate ?? Number.NaN)) ?? 0;
  return states.groups.flatMap((state, index) => {
    if (state === null || evidence.doubtfulGroups.has(index + 1)) return [];
    const offset = one("charge-offset", index + 1, state.offsetPercent.estimate - middle, state.offsetPercent.sd, "%");
    if (swept < settings.verdict.capacityWindowPercent) return [offset];
    const ratio = 1 / (1 + state.shortfall.estimate);
    return [offset, one("capacity-ratio", index + 1, ratio, state.shortfall.sd * ratio ** 2, "1")];
  });
}

function spreads(evidence: Evidence): Measurement[] {
  // Of two medians of rounded readings; what channels differ by is part of the spread.
  const uncertainty = 1000 * Math.SQRT2 * (median(evidence.survey.resolutionV.map(roundingOfStep)) ?? Number.NaN);
  return evidence.spreads.map((spread) => ({
    name: `spread ${spread.situation}`.replaceAll(" ", "-"),
    group: null,
    value: spread.spreadV * 1000,
    unit: "mV",
    uncertainty: Number.isFinite(uncertainty) ? uncertainty : null,
    method: "highest minus lowest median deviation from the median group",
    conditions: `${spread.situation}, ${spread.rows} rows, lowest group ${spread.lowestGroup}, highest group ${spread.highestGroup}`,
  }));
}
