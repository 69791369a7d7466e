import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import { median } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import type { TemperatureColumn } from "@/lib/readings/reading-log";

/** A probe that warms while no current flows, and still does where the log ends. */
export interface StillWarming extends Pick<AcuteSign, "where" | "row" | "before" | "after" | "overS"> {
  /** "no place" can warm a pack like this; a warm place or the sun may, an ordinary "room" not. */
  readonly fasterThan: "any place" | "a room";
  /** The other probes warm as well. False too where there is none. */
  readonly borneOut: boolean;
}

/** s looked back over from the last reading, the longest first: a slow rise shows in the long ones, one that has just begun in the short. Engineering defaults. */
const lookBackS = [240, 120, 60, 30, 15].map((minutes) => 60 * minutes);
/** Quarters of that time that must rise, and share of the rise that may lie in one of them: a step is a jump of the probe. Engineering defaults. */
const risingQuarters = 3;
const largestQuarterShare = 0.7;
/** Share of the time around a moment whose readings stand for it. Engineering default. */
const aroundShare = 1 / 16;
/** Readings that must lie in the time looked back over. Engineering default. */
const readingsNeeded = 5;
/** s before the end of the log within which the last reading of a probe must lie. Engineering default. */
const endsWithinS = 3600;

/**
 * Heat without current that has not stopped: cells that warm themselves do so slowly at first (0.02 K/min where it begins, ARC; from
 * memory: verify), long before a rate of a kelvin a minute. What tells it from a warm place: a place warms a pack ever more slowly as
 * the pack comes near to it, by (place - pack) / time constant. A rise still faster than that where the log ends is none of the place's.
 * The last rest alone is looked at, after heat of the load has spread. O(rows of the last four hours) for each probe.
 */
export function stillWarming(survey: RowSurvey, gates: AcuteGates): StillWarming[] {
  const { log, restingS } = survey;
  const last = log.rows - 1;
  const rested = (restingS[last] ?? -1) - gates.heatSpreadS;
  if (!(rested >= (lookBackS.at(-1) ?? 0))) return [];
  const endS = log.timeS[last] ?? 0;
  const probes = log.temperatures.map((probe) => ({ probe, rows: lastReadings(survey, probe, rested) }));
  return probes.flatMap(({ probe, rows }) => {
    const [latest] = rows;
    if (latest === undefined || endS - (log.timeS[latest] ?? 0) > endsWithinS) return [];
    const others = log.temperatures.filter((other) => other !== probe);
    const found = lookBackS.flatMap((overS) => warmingOver(survey, probe, others, rows, overS, gates) ?? []);
    return found.find(({ fasterThan }) => fasterThan === "any place") ?? found[0] ?? [];
  });
}

/** Rows of the last rest in which the probe reads what can be a temperature, latest first; none before a fall nothing cools by. */
function lastReadings({ log, gates }: RowSurvey, { valuesC }: TemperatureColumn, restedS: number): number[] {
  const [low, high] = gates.temperaturePlausibleC;
  const endS = log.timeS[log.rows - 1] ?? 0;
  const mostS = Math.min(restedS, (lookBackS[0] ?? 0) * (1 + aroundShare));
  const rows: number[] = [];
  for (let row = log.rows - 1; row >= 0 && endS - (log.timeS[row] ?? 0) <= mostS; row -= 1) {
    const warm = valuesC[row] ?? Number.NaN;
    if (warm >= low && warm <= high) rows.push(row);
  }
  return rows;
}

function warmingOver(
  { log }: RowSurvey,
  probe: TemperatureColumn,
  others: readonly TemperatureColumn[],
  rows: readonly number[],
  overS: number,
  gates: AcuteGates,
): StillWarming | null {
  const { timeS } = log;
  const endS = timeS[rows[0] ?? 0] ?? 0;
  const within = rows.filter((row) => endS - (timeS[row] ?? 0) <= overS * (1 + aroundShare));
  const first = within.at(-1);
  if (first === undefined || within.length < readingsNeeded || endS - (timeS[first] ?? 0) < overS) return null;
  const levels = quarters(timeS, probe.valuesC, within, endS, overS);
  if (levels === null) return null;
  const riseK = rise(levels);
  if (!(riseK >= gates.selfHeatingRiseK) || !isSteady(levels)) return null;
  const rate = endRate(levels, overS);
  const [before, , , nearEndC, after] = levels;
  const placeRate = (placeC: number) => Math.max(0, placeC - nearEndC) / (gates.placeTimeS / 60);
  if (rate < gates.selfHeatingKPerMin || rate <= placeRate(gates.warmRoomC)) return null;
  const beside = others.flatMap(({ valuesC }) => {
    const found = quarters(timeS, valuesC, within, endS, overS);
    return found === null ? [] : [found];
  });
  const besideK = median(beside.map(rise));
  const besideRate = median(beside.map((other) => endRate(other, overS)));
  const alone =
    besideK !== null &&
    riseK - besideK >= gates.selfHeatingAloneK &&
    rate - (besideRate ?? 0) >= gates.selfHeatingAloneKPerMin;
  return {
    where: probe.name,
    row: first,
    before,
    after,
    overS,
    fasterThan: alone || rate > placeRate(gates.hotPlaceC) ? "any place" : "a room",
    borneOut: besideK !== null && besideK >= riseK / 2,
  };
}

type Levels = readonly [number, number, number, number, number];

/** What a probe reads at the beginning, after each quarter and at the end, degC; null where it is silent at one of them. */
function quarters(
  timeS: Float64Array,
  valuesC: Float64Array,
  rows: readonly number[],
  endS: number,
  overS: number,
): Levels | null {
  const level = (quarter: number): number | null => {
    const atS = endS - overS + (quarter * overS) / 4;
    const aroundS = (row: number) => Math.abs((timeS[row] ?? 0) - atS);
    const near = rows.filter((row) => aroundS(row) <= aroundShare * overS && Number.isFinite(valuesC[row]));
    if (near.length > 0) return median(near.map((row) => valuesC[row] ?? Number.NaN));
    const nearest = rows.reduce<number | null>(
      (best, row) => (best === null || aroundS(row) < aroundS(best) ? row : best),
      null,
    );
    return nearest === null || aroundS(nearest) > overS / 8 ? null : (valuesC[nearest] ?? null);
  };
  const found = [level(0), level(1), level(2), level(3), level(4)];
  const [a, b, c, d, e] = found.map((one) => (one === null || !Number.isFinite(one) ? null : one));
  return a == null || b == null || c == null || d == null || e == null ? null : [a, b, c, d, e];
}

function rise(levels: Levels): number {
  return levels[4] - levels[0];
}

/** K/min over the second half: what has slowed down is slow here. */
function endRate(levels: Levels, overS: number): number {
  return ((levels[4] - levels[2]) / (overS / 2)) * 60;
}

function isSteady(levels: Levels): boolean {
  const steps = levels.slice(1).map((level, at) => level - (levels[at] ?? level));
  const rising = steps.filter((step) => step > 0).length;
  return rising >= risingQuarters && Math.max(...steps) <= largestQuarterShare * rise(levels);
}
