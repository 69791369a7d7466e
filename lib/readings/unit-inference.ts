import type { PackModel } from "@/lib/packs/pack-model";
import {
  type ColumnUnit,
  celsiusPlus40,
  decikelvin,
  fractionOfOne,
  kelvinUnit,
  milliampereUnit,
  millivoltUnit,
} from "@/lib/readings/column-unit";
import { medianOf, quantileOf } from "@/lib/readings/median";
import type { PlannedColumn } from "@/lib/readings/planned-column";

/** Values of a column looked at for its scale: enough for a median, cheap for a long file (engineering default, no authority). */
const sampleLimit = 4001;
/** A lithium-ion cell lies far below 100 V in volts and far above it in millivolts (engineering default, no authority). */
const cellMillivoltsFrom = 100;
/** Current above this multiple of the model's peak cannot be amperes (engineering default, no authority). */
const impossiblePeakShare = 20;

/**
 * Brings every column to our unit, in place. A unit in the header decides; without one the size of the values does, where it
 * leaves no doubt, and a remark says so. Values that contradict their header are kept as the header says, with a remark.
 */
export function convertUnits(
  columns: readonly PlannedColumn[],
  values: readonly Float64Array[],
  model: PackModel | undefined,
): string[] {
  const conversions = new Map<string, string[]>();
  const remarks: string[] = [];
  const cellSumV = sumOfCells(columns, values);
  columns.forEach((column, slot) => {
    const logged = values[slot];
    if (logged === undefined || column.reading === "serial") return;
    const stated = column.meaning.unit;
    const unit = stated ?? inferredUnit(column, logged, cellSumV, model);
    const doubt = stated === null ? null : doubtAbout(column, stated, logged);
    if (doubt !== null) remarks.push(doubt);
    if (unit === null || (unit.scale === 1 && unit.offset === 0) || unit.dimension === "time") return;
    for (let row = 0; row < logged.length; row++) logged[row] = (logged[row] ?? Number.NaN) * unit.scale + unit.offset;
    const how =
      stated === null
        ? `taken for ${unit.symbol} by the size of the values${unit === celsiusPlus40 ? ", which must be confirmed" : ""}`
        : `converted from ${unit.symbol}`;
    conversions.set(how, [...(conversions.get(how) ?? []), column.header]);
  });
  for (const [how, headers] of conversions) remarks.push(`${namesOf(headers)} ${how}.`);
  return remarks;
}

function namesOf(headers: readonly string[]): string {
  const [first = "", second = ""] = headers;
  if (headers.length === 1) return `Column '${first}':`;
  if (headers.length === 2) return `Columns '${first}' and '${second}':`;
  return `Columns '${first}' to '${headers[headers.length - 1]}' (${headers.length}):`;
}

function inferredUnit(
  column: PlannedColumn,
  logged: Float64Array,
  cellSumV: number,
  model: PackModel | undefined,
): ColumnUnit | null {
  const middle = medianOf(logged, sampleLimit);
  switch (column.meaning.quantity) {
    case "cell-voltage":
      return middle > cellMillivoltsFrom ? millivoltUnit : null;
    case "pack-voltage":
      return packVoltageUnit(middle, cellSumV, model);
    case "current":
      return currentUnit(logged, model);
    case "temperature":
    case "ambient-temperature":
    case "mosfet-temperature":
      return column.meaning.raw ? rawTemperatureUnit(logged) : temperatureUnit(middle);
    case "state-of-charge": {
      const top = quantileOf(logged, 1, sampleLimit);
      return top > 0 && top <= 1.001 && quantileOf(logged, 0, sampleLimit) >= 0 ? fractionOfOne : null;
    }
    default:
      return null;
  }
}

function packVoltageUnit(middle: number, cellSumV: number, model: PackModel | undefined): ColumnUnit | null {
  const expectedV =
    cellSumV > 0 ? cellSumV : model === undefined ? Number.NaN : (model.groups * (model.cellMaxV + model.cellMinV)) / 2;
  for (const divisor of [10, 100, 1000]) {
    const ratio = middle / divisor / expectedV;
    if (ratio > 0.7 && ratio < 1.4)
      return { ...millivoltUnit, symbol: divisor === 1000 ? "mV" : `1/${divisor} V`, scale: 1 / divisor };
  }
  // Without anything to compare with: no pack of ours stands at thousands of volts.
  return Number.isNaN(expectedV) && middle > 2000 ? millivoltUnit : null;
}

function currentUnit(logged: Float64Array, model: PackModel | undefined): ColumnUnit | null {
  if (model === undefined) return null;
  const largest = Math.max(quantileOf(logged, 0.999, sampleLimit), -quantileOf(logged, 0.001, sampleLimit));
  return largest > impossiblePeakShare * model.peakDischargeA ? milliampereUnit : null;
}

function temperatureUnit(middle: number): ColumnUnit | null {
  if (middle > 2000 && middle < 4300) return decikelvin;
  return middle > 230 && middle < 400 ? kelvinUnit : null;
}

/** A raw column that is no tenth of a kelvin is a byte with an offset, also where most of it is "no sensor" (255, 511, 65535). */
function rawTemperatureUnit(logged: Float64Array): ColumnUnit | null {
  const readings = logged.filter((value) => value !== 255 && value !== 511 && value !== 65_535);
  return temperatureUnit(medianOf(readings, sampleLimit)) ?? celsiusPlus40;
}

/** Median over the file of the sum of the cell columns, in V; 0 without cells. */
function sumOfCells(columns: readonly PlannedColumn[], values: readonly Float64Array[]): number {
  let sumV = 0;
  columns.forEach((column, slot) => {
    const logged = values[slot];
    if (column.meaning.quantity !== "cell-voltage" || logged === undefined) return;
    const middle = medianOf(logged, sampleLimit);
    const scale = column.meaning.unit?.scale ?? (middle > cellMillivoltsFrom ? millivoltUnit.scale : 1);
    if (Number.isFinite(middle)) sumV += middle * scale;
  });
  return sumV;
}

function doubtAbout(column: PlannedColumn, stated: ColumnUnit, logged: Float64Array): string | null {
  const middle = medianOf(logged, sampleLimit) * stated.scale + stated.offset;
  if (column.meaning.quantity === "cell-voltage" && (middle > cellMillivoltsFrom || (middle > 0 && middle < 0.01))) {
    return `Column '${column.header}' says ${stated.symbol}, but its values make ${middle.toPrecision(3)} V; the unit in the header must be wrong.`;
  }
  const isFraction =
    column.meaning.quantity === "state-of-charge" && quantileOf(logged, 1, sampleLimit) <= 1.001 && middle > 0;
  return isFraction
    ? `Column '${column.header}' says ${stated.symbol}, but no value is above 1; it may run from 0 to 1.`
    : null;
}
