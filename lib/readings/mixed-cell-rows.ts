import { type CellScale, isMillivolts, isVolts, type LoggedCell } from "@/lib/readings/cell-scale";

export interface MixedRows {
  /** Rows of which a value was converted from mV to V. */
  readonly converted: number;
  /** The first of them, from 0. */
  readonly firstRow: number;
  /** 1 in each of them. */
  readonly millivoltRow: Uint8Array;
}

/** Cells of one pack that work lie within this of each other, V (engineering default, no authority). */
const nearLevelV = 0.5;

/**
 * Brings the columns of scale "by-row" to volts, in place; null where there is none.
 *
 * The values of a row vote: those that can only be millivolts against those that look like volts. A row with neither goes on as the
 * row before. In a row of millivolts a value with decimals that fits the level of the others is already in volts; in a row of volts
 * only what can be nothing but millivolts is converted. All else (zeros, "no sensor" numbers) follows its row.
 */
export function convertMixedRows(cells: readonly LoggedCell[], scales: readonly CellScale[]): MixedRows | null {
  const voters = cells.filter((_, at) => scales[at] !== "volts");
  const mixed = cells.filter((_, at) => scales[at] === "by-row");
  const rows = mixed[0]?.values.length ?? 0;
  if (mixed.length === 0) return null;
  const millivoltRow = new Uint8Array(rows);
  let isMillivoltRow = mixed.every(({ stated }) => stated?.symbol === "mV");
  let converted = 0;
  let firstRow = -1;
  for (let row = 0; row < rows; row++) {
    const { millivolts, volts, levelV } = voteOf(voters, row);
    if (millivolts !== volts) isMillivoltRow = millivolts > volts;
    let touched = false;
    for (const { values, stated } of mixed) {
      const value = values[row] ?? Number.NaN;
      const fitsAsVolts = stated?.symbol !== "mV" && isVolts(value) && Math.abs(value - levelV) <= nearLevelV;
      if (!(isMillivoltRow ? !fitsAsVolts : isMillivolts(value))) continue;
      values[row] = value / 1000;
      touched ||= isMillivolts(value);
    }
    if (!touched) continue;
    millivoltRow[row] = 1;
    converted++;
    if (firstRow < 0) firstRow = row;
  }
  return { converted, firstRow, millivoltRow };
}

function voteOf(cells: readonly LoggedCell[], row: number) {
  let millivolts = 0;
  let volts = 0;
  let sum = 0;
  for (const { values } of cells) {
    const value = values[row] ?? Number.NaN;
    if (isMillivolts(value)) {
      millivolts++;
      sum += value;
    } else if (isVolts(value)) volts++;
  }
  return { millivolts, volts, levelV: sum / millivolts / 1000 };
}
