import { readFileSync } from "node:fs";
import Papa from "papaparse";

export type NumberRows<Column extends string> =
  | { readonly kind: "rows"; readonly rows: readonly Readonly<Record<Column, number>>[] }
  | { readonly kind: "unusable"; readonly sentence: string };

/** A small table of numbers from 0 by the names of its columns; the first line that is none is named. */
export function readNumberRows<Column extends string>(file: string, columns: readonly Column[]): NumberRows<Column> {
  const unusable = (sentence: string) =>
    ({ kind: "unusable", sentence: `${file} cannot be used: ${sentence}.` }) as const;
  let text: string;
  try {
    text = readFileSync(file, "utf8");
  } catch {
    return { kind: "unusable", sentence: `${file} cannot be read.` };
  }
  const { data, meta } = Papa.parse<Record<string, string>>(text, { header: true, skipEmptyLines: true });
  const missing = columns.filter((column) => !meta.fields?.includes(column));
  if (missing.length > 0) return unusable(`line 1: the header names no column ${missing.join(", ")}`);
  const rows: Readonly<Record<Column, number>>[] = [];
  for (const [i, row] of data.entries()) {
    const numbers = columns.map((column) => [column, row[column]?.trim() ? Number(row[column]) : Number.NaN] as const);
    const wrong = numbers.find(([, number]) => !(number >= 0 && Number.isFinite(number)));
    if (wrong !== undefined) return unusable(`line ${i + 2}: its ${wrong[0]} is no number from 0`);
    rows.push(Object.fromEntries(numbers) as Record<Column, number>);
  }
  return rows.length === 0 ? { kind: "unusable", sentence: `${file} holds no rows.` } : { kind: "rows", rows };
}
