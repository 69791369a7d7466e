import { readFileSync } from "node:fs";
import Papa from "papaparse";
import { checkDataPath } from "./check-data";

export type CheckRow = Readonly<Record<string, string>>;

/** Rows of an open-data table as text by column name, or null where the table is absent. */
export function readCheckTable(relative: string): CheckRow[] | null {
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
