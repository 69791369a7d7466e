import type { PackModel } from "@/lib/packs/pack-model";
import {
  type ColumnUnit,
  celsiusPlus40,
  decikelvin,
  fractionOfOne,
  kelvinUnit,
  milliampereUnit,
  unitOfSymbol,
} from "@/lib/readings/column-unit";
import { currentScale } from "@/lib/readings/current-scale";
import { medianOf, quantileOf } from "@/lib/readings/median";
import { packVoltageScale, packVoltageUnit } from "@/lib/readings/pack-voltage-scale";
import type { PlannedColumn } from "@/lib/readings/planned-column";
import { dimensionsOf, type Quantity } from "@/lib/readings/quantity";
import { settleCells } from "@/lib/readings/settle-cells";
import { isAllOnes } from "@/lib/readings/thousandfold";
import { namesOfColumns } from "@/lib/readings/unit-remarks";

/** Values of a column looked at for its scale: enough for a median, cheap for a long file (engineering default, no authority). */
const sampleLimit = 4001;
/** Current above this multiple of the model's peak cannot be amperes (engineering default, no authority). */
const impossiblePeakShare = 20;

export interface ConvertedUnits {
  readonly remarks: readonly string[];
  /** Symbol of the unit each column was read in, by its position in the row; columns without a unit are missing. */
  readonly unitOfField: ReadonlyMap<number, string>;
  /** Symbol of the unit that the size of the values put in the place of the stated one, by the column's position. */
  readonly overruled: ReadonlyMap<number, string>;
}

/**
 * Brings every column to our unit, in place. A unit in the header decides; without one the size of the values does, where it
 * leaves no doubt, and a remark says so. A header of V or A is overruled where the values are beyond doubt a thousand times too
 * large for it, row by row where a file changes its unit; any other contradiction is only named.
 */
export function convertUnits(
  columns: readonly PlannedColumn[],
  values: readonly Float64Array[],
  model: PackModel | undefined,
  line: Int32Array,
): ConvertedUnits {
  const cells = settleCells(columns, values, line);
  const unitOfField = new Map<number, string>(cells.unitOfField);
  const conversions = new Map([...cells.conversions].map(([how, headers]) => [how, [...headers]]));
  const remarks = [...cells.remarks];
  const overruled = new Map<number, string>();
  const cellSumV = sumOfCells(columns, values);
  const perhapsPlus40: string[] = [];
  // Asked before any column is converted: a column in kelvin that became degC would look like the cool probe beside the next.
  const burning = burningProbes(columns, values);
  columns.forEach((column, slot) => {
    const logged = values[slot];
    const { quantity, unit: stated } = column.meaning;
    if (logged === undefined || column.reading === "serial" || quantity === "cell-voltage") return;
    const settled =
      quantity === "pack-voltage"
        ? packVoltageScale({ header: column.header, stated, logged, line }, cellSumV, model)
        : quantity === "current"
          ? currentScale({ header: column.header, stated, logged, line }, cells.millivoltRow, model)
          : null;
    if (settled !== null) {
      unitOfField.set(column.field, quantity === "current" ? "A" : "V");
      if (settled.taken !== undefined) overruled.set(column.field, settled.taken);
      remarks.push(settled.remark);
      return;
    }
    const impossible = burning.has(column) ? null : impossibleCelsius(column, logged);
    if (impossible !== null) overruled.set(column.field, impossible.symbol);
    const unit = impossible ?? stated ?? (burning.has(column) ? null : inferredUnit(column, logged, cellSumV, model));
    const read = unit ?? unitAsIs(quantity);
    if (read !== null) unitOfField.set(column.field, read.symbol);
    if (unit === null && isPerhapsPlus40(column, logged)) perhapsPlus40.push(column.header);
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
  if (perhapsPlus40.length > 0)
    remarks.push(
      `${namesOfColumns(perhapsPlus40)}: no unit is stated, and no value there is as low as ${neverCoolerC}. They are read as degC; a board may as well have sent degC + 40, which would be 40 K cooler. Please confirm the unit.`,
    );
  for (const [how, headers] of conversions) remarks.push(`${namesOfColumns(headers)}: ${how}.`);
  return { remarks, unitOfField, overruled };
}

function inferredUnit(
  column: PlannedColumn,
  logged: Float64Array,
  cellSumV: number,
  model: PackModel | undefined,
): ColumnUnit | null {
  const middle = medianOf(logged, sampleLimit);
  switch (column.meaning.quantity) {
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

function currentUnit(logged: Float64Array, model: PackModel | undefined): ColumnUnit | null {
  if (model === undefined) return null;
  const largest = Math.max(quantileOf(logged, 0.999, sampleLimit), -quantileOf(logged, 0.001, sampleLimit));
  return largest > impossiblePeakShare * model.peakDischargeA ? milliampereUnit : null;
}

/** degC. No pack is as hot as this through half of a file (diagnostics reference 1.2: outside 150 degC a temperature is no reading). */
const impossibleMiddleC = 150;

/** Unit of a column whose heading says degC while its values are kelvin beyond doubt; null where they may be what it says, or a person said it. */
function impossibleCelsius({ meaning }: PlannedColumn, logged: Float64Array): ColumnUnit | null {
  if (!isTemperature(meaning.quantity) || meaning.unit?.symbol !== "degC" || meaning.confirmed !== undefined)
    return null;
  if (!(medianOf(logged, sampleLimit) > impossibleMiddleC)) return null;
  const readings = logged.filter((value) => !isAllOnes(value));
  return temperatureUnit(medianOf(readings, sampleLimit));
}

/** K. No pack and no place it stands in is so cold. Engineering default. */
const neverColderK = 200;
/** Readings below it that are no stray values. Engineering default. */
const celsiusReadings = 3;

/**
 * Probes whose values would pass for kelvin and are degC of a pack that burns: they began as cool as no kelvin is, or another
 * probe of their kind is cool throughout. Taken for kelvin, 350 degC would be shown as 77. Raw values are steps, not degrees.
 */
function burningProbes(columns: readonly PlannedColumn[], values: readonly Float64Array[]): ReadonlySet<PlannedColumn> {
  const probes = columns.flatMap((column, slot) => {
    const logged = values[slot];
    const { quantity } = column.meaning;
    if (logged === undefined || column.reading === "serial" || !isTemperature(quantity)) return [];
    const readings = logged.filter((value) => Number.isFinite(value) && value !== 0 && !isAllOnes(value));
    const isCool = Math.abs(medianOf(readings, sampleLimit)) < impossibleMiddleC && isMoving(readings);
    const beganCool = readings.filter((value) => value > 1 && value < neverColderK).length >= celsiusReadings;
    return [{ column, quantity, isCool, beganCool }];
  });
  const burning = probes.filter(
    (probe) =>
      !probe.column.meaning.raw &&
      (probe.beganCool || probes.some((other) => other !== probe && other.quantity === probe.quantity && other.isCool)),
  );
  return new Set(burning.map(({ column }) => column));
}

/** A value that never changes is no reading, and says nothing of the unit. */
function isMoving(readings: Float64Array): boolean {
  return readings.some((value) => value !== readings[0]);
}

/** degC. A pack that is never cooler than this through a whole file is rare, one whose board adds 40 is not. Engineering default. */
const neverCoolerC = 45;

function isPerhapsPlus40({ meaning }: PlannedColumn, logged: Float64Array): boolean {
  if (!isTemperature(meaning.quantity) || meaning.confirmed !== undefined) return false;
  let read = 0;
  for (const value of logged) {
    if (Number.isNaN(value) || isAllOnes(value)) continue;
    if (value <= neverCoolerC || value > 255) return false;
    read += 1;
  }
  return read > 0;
}

function isTemperature(quantity: Quantity): boolean {
  return dimensionsOf[quantity].includes("temperature");
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

/** Median over the file of the sum of the cell columns, V; 0 without cells. */
function sumOfCells(columns: readonly PlannedColumn[], values: readonly Float64Array[]): number {
  let sumV = 0;
  columns.forEach((column, slot) => {
    const logged = values[slot];
    if (column.meaning.quantity !== "cell-voltage" || logged === undefined) return;
    const middleV = medianOf(logged, sampleLimit);
    if (Number.isFinite(middleV)) sumV += middleV;
  });
  return sumV;
}

function doubtAbout(column: PlannedColumn, stated: ColumnUnit, logged: Float64Array): string | null {
  if (column.meaning.quantity !== "state-of-charge") return null;
  const isFraction = quantileOf(logged, 1, sampleLimit) <= 1.001 && medianOf(logged, sampleLimit) > 0;
  return isFraction
    ? `Column '${column.header}' says ${stated.symbol}, but no value is above 1; it may run from 0 to 1.`
    : null;
}

/** Unit of a column that states none and whose values look like our own; null where it needs none. */
function unitAsIs(quantity: Quantity): ColumnUnit | null {
  const [dimension] = dimensionsOf[quantity];
  const ours = { voltage: "V", current: "A", temperature: "degC", share: "%" } as const;
  return dimension === "voltage" || dimension === "current" || dimension === "temperature" || dimension === "share"
    ? unitOfSymbol(ours[dimension])
    : null;
}
