import type { ColumnUnit } from "@/lib/readings/column-unit";
import { medianOf } from "@/lib/readings/median";
import type { PlannedColumn } from "@/lib/readings/planned-column";

/** A cell column with its values as logged. */
export interface LoggedCell {
  readonly header: string;
  /** Position in the row, from 0. */
  readonly field: number;
  readonly stated: ColumnUnit | null;
  readonly values: Float64Array;
}

export type CellScale = "volts" | "millivolts" | "by-row";

/** No lithium-ion cell has this many volts; every working one has this many millivolts (engineering default, no authority). */
const surelyMillivolts = { least: 1500, most: 5000 } as const;
/** Range of a cell in volts (engineering default, no authority). */
const likelyVolts = { least: 0.5, most: 5 } as const;
/** Half of a column that calls itself mV has to lie here before it is believed to be V (engineering default, no authority). */
const surelyVolts = { least: 2, most: 4.5 } as const;
/** A lithium-ion cell lies far below 100 V in volts and far above it in millivolts (engineering default, no authority). */
const millivoltsFrom = 100;
const sampleLimit = 4001;

/** "No sensor" as twelve or eleven bits of ones (common practice, no source): says nothing about the unit. */
export function isMillivolts(value: number): boolean {
  return value >= surelyMillivolts.least && value <= surelyMillivolts.most && value !== 4095 && value !== 2047;
}

/** Volts come with decimals; a whole number of this size may as well be the millivolts of a dead cell. */
export function isVolts(value: number): boolean {
  return value >= likelyVolts.least && value <= likelyVolts.most && !Number.isInteger(value);
}

/** The cell columns of a file, as logged. */
export function loggedCells(columns: readonly PlannedColumn[], values: readonly Float64Array[]): LoggedCell[] {
  return columns.flatMap(({ header, field, meaning }, slot) => {
    const logged = values[slot];
    return meaning.quantity === "cell-voltage" && logged !== undefined
      ? [{ header, field, stated: meaning.unit, values: logged }]
      : [];
  });
}

/**
 * In which unit each cell column really is, by its values: 1,500 to 5,000 can only be millivolts, 0.5 to 5 with decimals is volts.
 *
 * "by-row" where a column holds both. A column with neither (a dead cell, say) follows its header, or the other columns where most
 * of them are in millivolts against theirs. A header of mV is given up only if the whole file speaks against it: a dead cell has few
 * millivolts, too.
 */
export function cellScales(cells: readonly LoggedCell[]): CellScale[] {
  const millivolts = cells.map(({ values }) => countMillivolts(values));
  const inMillivolts = millivolts.filter((found) => found > 0).length;
  const mostAreMillivolts = inMillivolts * 2 > cells.length;
  const headersAreWrong =
    inMillivolts === 0 &&
    cells.some(({ stated }) => stated?.symbol === "mV") &&
    cells.every(({ values }) => isColumnOfVolts(values));
  return cells.map(({ stated, values }, at) => {
    const saysMillivolts = stated?.symbol === "mV";
    if ((millivolts[at] ?? 0) > 0) return values.some(isVolts) ? "by-row" : "millivolts";
    if (saysMillivolts) return headersAreWrong ? "volts" : "millivolts";
    if (inMillivolts > 0 && values.some(isVolts)) return "volts";
    const isLarge = stated === null && medianOf(values, sampleLimit) > millivoltsFrom;
    return mostAreMillivolts || isLarge ? "millivolts" : "volts";
  });
}

function isColumnOfVolts(values: Float64Array): boolean {
  const middle = medianOf(values, sampleLimit);
  return middle >= surelyVolts.least && middle <= surelyVolts.most && countVolts(values) * 2 > values.length;
}

// Two loops and not one that is handed its question: these run over every value of a file, and a call for each costs ten times as much.
function countMillivolts(values: Float64Array): number {
  let found = 0;
  for (let row = 0; row < values.length; row++) if (isMillivolts(values[row] ?? Number.NaN)) found++;
  return found;
}

function countVolts(values: Float64Array): number {
  let found = 0;
  for (let row = 0; row < values.length; row++) if (isVolts(values[row] ?? Number.NaN)) found++;
  return found;
}
