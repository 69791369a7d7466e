import { readCheckTable } from "./check-table";

/** Columns of an open-data table by name, empty cells as NaN; `null` where the table is absent. */
export function readCheckColumns(relative: string): Readonly<Record<string, Float64Array>> | null {
  const rows = readCheckTable(relative);
  const first = rows?.[0];
  if (rows === null || first === undefined) return null;
  return Object.fromEntries(
    Object.keys(first).map((name) => {
      return [name, Float64Array.from(rows, (row) => (row[name] === "" ? Number.NaN : Number(row[name])))];
    }),
  );
}

/** One column; a missing one is a fault of the test. */
export function column(columns: Readonly<Record<string, Float64Array>>, name: string): Float64Array {
  const found = columns[name];
  if (found === undefined) throw new Error(`no column ${name}`);
  return found;
}
