import { readFileSync } from "node:fs";
import Papa from "papaparse";
import { checkDataPath } from "./check-data";

export type CheckRow = Readonly<Record<string, string>>;

/** Rows of an open-data table as text by column name, or null where the table is absent. */
export function readCheckTable(relative: string): CheckRow[] | null {
  return readPlainTable(relative)?.map((row) => madeWrong(relative, row)) ?? null;
}

function readPlainTable(relative: string): CheckRow[] | null {
  const file = checkDataPath(relative);
  if (file === null) return null;
  return Papa.parse<CheckRow>(readFileSync(file, "utf8"), { header: true, skipEmptyLines: true }).data;
}

/** A cell as a number; a missing column or an unreadable cell is a fault of the test, not a value. */
export function numberIn(row: CheckRow, column: string): number {
  const value = Number(row[column]);
  if (row[column] === undefined || row[column] === "" || !Number.isFinite(value)) {
    throw new Error(`column ${column} holds no number: ${row[column]}`);
  }
  return value;
}

/**
 * Rows typed in from a table of reference values, as text by column name; the first line names the columns typed. Where the
 * table itself is present, a typed row that is not in it is a fault, so a slip of the pen is found.
 */
export function typedTable(relative: string, text: string): CheckRow[] {
  const typed = Papa.parse<CheckRow>(text.trim(), { header: true }).data;
  const table = readPlainTable(relative);
  const missing = table === null ? [] : typed.filter((row) => !table.some((full) => holds(full, row)));
  if (missing.length > 0) throw new Error(`not in ${relative}: ${JSON.stringify(missing[0])}`);
  return typed.map((row) => madeWrong(relative, row));
}

/** Every number with decimals of the one table that is to be made wrong, a hundredth too great: a test that compares them has to fail then. */
function madeWrong(relative: string, row: CheckRow): CheckRow {
  if (process.env.WRONG_TABLE !== relative) return row;
  const wrong = (text: string) => (/^-?[0-9]+\.[0-9]/.test(text) ? String(Number(text) * 1.01) : text);
  return Object.fromEntries(Object.entries(row).map(([column, text]) => [column, wrong(text)]));
}

function holds(full: CheckRow, typed: CheckRow): boolean {
  return Object.entries(typed).every(([column, value]) => {
    if (full[column] === value) return true;
    const [a, b] = [Number(full[column]), Number(value)];
    // Twelve digits are typed; numbers that are left of rounding, near 1e-17, need not agree.
    return Math.abs(a - b) <= 1e-11 * Math.abs(a) + 1e-20;
  });
}
