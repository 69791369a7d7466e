import type { ColumnUnit } from "@/lib/readings/column-unit";

/** A column that may be a thousand times too large for the unit it states, with the line of each row in the file. */
export interface DoubtfulColumn {
  readonly header: string;
  readonly stated: ColumnUnit | null;
  readonly logged: Float64Array;
  readonly line: Int32Array;
}

/** What was done to the column, in place; null instead where it stays to be converted by its header. */
export interface SettledColumn {
  readonly remark: string;
  /** Unit the whole column was taken in against its header; missing where it was so only in part, or was only named. */
  readonly taken?: "mA" | "V" | "mV";
}

/** "No sensor" as a word of ones (common practice, no source): says nothing about the unit. */
const allOnes: ReadonlySet<number> = new Set([255, 511, 1023, 2047, 4095, 8191, 16_383, 32_767, 65_535]);

export function isAllOnes(value: number): boolean {
  return allOnes.has(Math.abs(value));
}

/** Divides by 1000, in place, the values for which `holds`. Returns how many there were and the first row, -1 without any. */
export function divideByThousand(logged: Float64Array, holds: (value: number, row: number) => boolean) {
  let divided = 0;
  let firstRow = -1;
  for (let row = 0; row < logged.length; row++) {
    const value = logged[row] ?? Number.NaN;
    if (!holds(value, row)) continue;
    logged[row] = value / 1000;
    divided++;
    if (firstRow < 0) firstRow = row;
  }
  return { divided, firstRow };
}
