import Papa from "papaparse";
import { z } from "zod";
import { readSerial } from "@/lib/packs/serial";
import { serialSentence } from "@/lib/packs/serial-sentence";
import { storableText } from "@/lib/returns/storable-text";
import { type CalendarDate, isCalendarDate } from "./calendar";

/** A distributor's sales as somebody brings them in; one object for the form and the server. */
export const distributorImportSchema = z.object({
  distributor: storableText({
    least: 2,
    most: 200,
    tooShort: "Write whose sales these are.",
    tooLong: "This is longer than 200 characters.",
  }),
  /** Days a pack lies at a dealer's between the distributor's sale and the customer's, on average. */
  averageShelfDays: z.coerce
    .number("Write the days as a whole number, for example 60.")
    .int("Write the days as a whole number, for example 60.")
    .min(0, "Not fewer than 0 days.")
    .max(3660, "That is more than ten years."),
  table: storableText({
    least: 10,
    most: 2_000_000,
    tooShort: "Paste the table, with the head: serial,sold on.",
    tooLong: "This is longer than two million characters. Bring it in in parts.",
  }),
});
export type DistributorImport = z.output<typeof distributorImportSchema>;

export interface DistributorSaleRow {
  readonly line: number;
  readonly serial: string;
  readonly soldOn: CalendarDate;
}

export interface LineProblem {
  readonly line: number;
  readonly sentence: string;
}

export type DistributorTable =
  | { readonly kind: "rows"; readonly rows: readonly DistributorSaleRow[] }
  | { readonly kind: "refused"; readonly problems: readonly LineProblem[] };

/** So many problems are told at once: the first ones usually explain the others. Engineering default. */
const MOST_TOLD = 20;

/**
 * Reads a table with the columns "serial" and "sold on" (YYYY-MM-DD), in any order, parted by comma, semicolon or tab. All of it
 * or nothing: a line that cannot be read refuses the table, with its number, counted from 1 at the head.
 */
export function readDistributorTable(table: string): DistributorTable {
  const { data } = Papa.parse<Record<string, string>>(table.trim(), {
    header: true,
    skipEmptyLines: "greedy",
    delimitersToGuess: [",", ";", "\t"],
    transformHeader: (head) => head.trim().toLowerCase(),
  });
  const [first] = data;
  if (first === undefined || !("serial" in first) || !("sold on" in first))
    return refusedAt([{ line: 1, sentence: "The head must name the columns “serial” and “sold on”." }]);
  const problems: LineProblem[] = [];
  const rows: DistributorSaleRow[] = [];
  const seen = new Map<string, number>();
  for (const [index, given] of data.entries()) {
    const line = index + 2;
    const reading = readSerial(given.serial ?? "");
    const soldOn = (given["sold on"] ?? "").trim();
    if (reading.kind !== "serial") problems.push({ line, sentence: serialSentence(reading) });
    else if (!isCalendarDate(soldOn))
      problems.push({ line, sentence: `“${soldOn.slice(0, 40)}” is no day written YYYY-MM-DD.` });
    else if (seen.has(reading.serial))
      problems.push({ line, sentence: `This serial stands in line ${seen.get(reading.serial)} already.` });
    else {
      seen.set(reading.serial, line);
      rows.push({ line, serial: reading.serial, soldOn });
    }
  }
  return problems.length > 0 ? refusedAt(problems) : { kind: "rows", rows };
}

function refusedAt(problems: readonly LineProblem[]): DistributorTable {
  return { kind: "refused", problems: problems.slice(0, MOST_TOLD) };
}

/** What is known of a pack that a distributor says to have sold. */
export interface SoldPack {
  readonly builtOn: CalendarDate;
  readonly dispatchedOn: CalendarDate | null;
}

/** Why a sale cannot be so; null where nothing speaks against it. Days as YYYY-MM-DD compare as text. */
export function whyNotSoldThen(pack: SoldPack | null, soldOn: CalendarDate, today: CalendarDate): string | null {
  if (pack === null) return "No pack with this serial is known. Compare it with the list.";
  if (soldOn > today) return "This day is still to come.";
  if (soldOn < pack.builtOn) return `The pack was built on ${pack.builtOn}, so it was not sold before.`;
  if (pack.dispatchedOn !== null && soldOn < pack.dispatchedOn)
    return `The pack left the maker on ${pack.dispatchedOn}, so the distributor did not sell it before.`;
  return null;
}
