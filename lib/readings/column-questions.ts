import type { ColumnChoice } from "@/lib/readings/column-choice.schema";
import { type ColumnMapping, mappingKeys } from "@/lib/readings/column-mapping";
import { type ColumnMeaning, columnMeaning } from "@/lib/readings/column-meaning";
import { closerOrder, dayOrderOf, readClock } from "@/lib/readings/date-time";
import { findHeader } from "@/lib/readings/find-header";
import { guessHeader } from "@/lib/readings/guess-header";
import { isTime } from "@/lib/readings/lacks-time";
import { likelyMeanings } from "@/lib/readings/likely-meaning";
import { repeatedFields } from "@/lib/readings/plan-columns";
import type { ReadingDoubts } from "@/lib/readings/reading-doubts";
import { type Delimiter, splitLine } from "@/lib/readings/split-line";

/** One column as a person is asked about it: what stands in the file and what we take it for. */
export interface ColumnQuestion {
  /** As a mapping names the column. */
  readonly key: string;
  readonly samples: readonly string[];
  readonly proposal: ColumnChoice;
  /** Why it must be looked at, as a sentence; null where the heading leaves no doubt. */
  readonly why: string | null;
}

export interface FileQuestions {
  readonly columns: readonly ColumnQuestion[];
  readonly asksZone: boolean;
}

/** Values shown of each column (engineering default, no authority). */
const samplesShown = 3;
const longestSample = 24;
/** Rows that a proposal rests on (engineering default, no authority). */
const rowsLookedAt = 20;

/**
 * The questions about the columns of a file, from its first lines and from what the decoder made of it (null where it could make
 * nothing of it). Null where the lines are no table at all: there is nothing to ask.
 */
export function columnQuestions(
  lines: readonly string[],
  mapping: ColumnMapping | undefined,
  doubts: ReadingDoubts | null,
): FileQuestions | null {
  const header = findHeader(lines, mapping) ?? withKnownMeanings(guessHeader(lines));
  if (header === null) return null;
  const first = header.lineIndex + header.lineCount;
  const looked = lines
    .slice(first, first + rowsLookedAt)
    .filter((line) => line.trim() !== "")
    .map((line) => splitLine(line, header.delimiter));
  const rows = looked.slice(0, samplesShown);
  const keys = mappingKeys(header.headers);
  const dated = datedColumn(header.meanings, rows);
  const likely = likelyMeanings(header.headers, withDated(header.meanings, dated?.field), looked);
  const lowest = lowestGroup(header.meanings);
  const repeated = repeatedFields(header.headers, header.meanings);
  const columns = header.headers.map((_, field): ColumnQuestion => {
    const meaning = header.meanings[field] ?? null;
    const guess = likely.get(field) ?? null;
    const key = keys[field] ?? "";
    const samples = rows.map((row) => (row[field] ?? "").slice(0, longestSample));
    const chosen = mapping !== undefined && Object.hasOwn(mapping, key) ? mapping[key] : undefined;
    if (typeof chosen === "object") return { key, samples, ...anewAbout(chosen, field, doubts) };
    if (repeated.has(field))
      return {
        key,
        samples,
        proposal: { quantity: "ignore", number: null, unit: null, sign: null },
        why: doubts?.openHeadings[field] ?? namedTwice,
      };
    const isCurrent = (guess ?? meaning)?.quantity === "current";
    return {
      key,
      samples,
      proposal: {
        quantity: (guess ?? meaning)?.quantity ?? (field === dated?.field ? "time-of-some-kind" : "ignore"),
        number: guess === null ? numberFromOne(meaning, lowest) : guess.number,
        unit:
          guess === null
            ? (doubts?.deniedUnits[field]?.unit ?? meaning?.unit?.symbol ?? doubts?.unitOfField[field] ?? null)
            : guess.unit,
        // What the data do not tell is nobody's proposal: a click that confirms it would be remembered.
        sign: isCurrent ? (meaning?.statedSign ?? doubts?.sign?.told ?? null) : null,
        ...(field === dated?.field ? orderOf(looked.map((row) => row[field] ?? "")) : orderAsked(field, doubts)),
      },
      why:
        guess?.why ?? (field === dated?.field ? looksLikeTime : whyAsked(meaning === null, isCurrent, field, doubts)),
    };
  });
  return { columns, asksZone: doubts?.lacksZone ?? dated?.lacksZone ?? false };
}

/** Which comes first, day or month, as far as the dates tell; nothing for a column that leaves no doubt of it. */
function orderAsked(field: number, doubts: ReadingDoubts | null): Pick<ColumnChoice, "dayOrder"> {
  const open = doubts?.openDayOrder ?? null;
  return open?.field === field ? { dayOrder: open.closer } : {};
}

/** The same of a column that nobody knew for one of dates. */
function orderOf(dates: readonly string[]): Pick<ColumnChoice, "dayOrder"> {
  return dayOrderOf(dates) === "ambiguous" ? { dayOrder: closerOrder(dates) } : {};
}

const namedTwice = "Another column before it has the same meaning. That one is read, and this one left out.";
const dayOrMonth = "The dates do not tell which number is the day and which the month: say which comes first.";

/** A column that was answered for before: the answer as it stands, unless the values of this file say otherwise. */
function anewAbout(
  { quantity, number, unit, sign, dayOrder }: ColumnChoice,
  field: number,
  doubts: ReadingDoubts | null,
): Pick<ColumnQuestion, "proposal" | "why"> {
  const denied = doubts?.deniedUnits[field];
  const direction = quantity === "current" ? (doubts?.sign ?? null) : null;
  const isOrderOpen = doubts?.openDayOrder?.field === field;
  const why = [denied?.why, direction?.why, isOrderOpen ? dayOrMonth : undefined]
    .filter((part) => part !== undefined)
    .join(" ");
  const proposal = {
    quantity,
    number,
    unit: denied === undefined ? unit : denied.unit,
    sign: direction === null ? sign : direction.told,
    ...(isOrderOpen ? orderAsked(field, doubts) : dayOrder === undefined ? {} : { dayOrder }),
  };
  return { proposal, why: why === "" ? null : why };
}

const flagsOfNoList =
  "Flags were raised, and the heading does not say whose list their bits follow. Unless it is the open list of SunSpec (model 802, Evt1), leave it: they are then shown as raised, meaning not known.";

const looksLikeTime = "This heading is not known, but its values look like the time.";

/** Where no heading says which column is the time: the first whose values are dates or times of day, and whether they lack a zone. */
function datedColumn(
  meanings: readonly ({ readonly quantity: string } | null)[],
  rows: readonly (readonly string[])[],
): { readonly field: number; readonly lacksZone: boolean } | null {
  if (meanings.some((meaning) => meaning !== null && isTime(meaning.quantity))) return null;
  const field = meanings.findIndex((meaning, at) => {
    const values = rows.map((row) => row[at] ?? "");
    return meaning === null && values.length > 0 && values.every(isDateOrClock);
  });
  if (field < 0) return null;
  const hasZone = rows.every((row) => /(?:Z|UTC|:\d\d[+-]\d{2}:?\d{2})$/i.test((row[field] ?? "").trim()));
  return { field, lacksZone: !hasZone && rows.every((row) => dayOrderOf([row[field] ?? ""]) !== null) };
}

function isDateOrClock(text: string): boolean {
  return text !== "" && (dayOrderOf([text]) !== null || readClock(text) !== null);
}

function whyAsked(isUnknown: boolean, isCurrent: boolean, field: number, doubts: ReadingDoubts | null): string | null {
  const open = doubts?.openHeadings[field];
  if (open !== undefined) return open;
  if (isUnknown) return "This heading is not known; the column is left out unless you say what it is.";
  const unit =
    doubts?.unitsBySize.includes(field) === true ? "The heading states no unit; it was told from the values." : null;
  const sign = isCurrent && doubts !== null && doubts.sign !== null ? doubts.sign.why : null;
  const flags = doubts?.flagsOfNoList.includes(field) === true ? flagsOfNoList : null;
  const order = doubts?.openDayOrder?.field === field ? dayOrMonth : null;
  const parts = [doubts?.deniedUnits[field]?.why ?? null, unit, sign, flags, order].filter((part) => part !== null);
  return parts.length === 0 ? null : parts.join(" ");
}

function lowestGroup(
  meanings: readonly ({ readonly quantity: string; readonly number: number | null } | null)[],
): number {
  return Math.min(
    ...meanings.flatMap((meaning) => (meaning?.quantity === "cell-voltage" ? [meaning.number ?? 1] : [])),
  );
}

/** Group numbers that begin at 0 in a file begin at 1 with us. */
function numberFromOne(meaning: ColumnMeaning | null, lowest: number): number | null {
  const number = meaning?.number ?? null;
  return number !== null && meaning?.quantity === "cell-voltage" && lowest === 0 ? number + 1 : number;
}

function withKnownMeanings(guess: ReturnType<typeof guessHeader>) {
  return guess === null ? null : { ...guess, meanings: guess.headers.map((header) => columnMeaning(header)) };
}

/** The column whose values are dates is known by them, whatever its heading. */
function withDated(meanings: readonly (ColumnMeaning | null)[], dated: number | undefined) {
  const time: ColumnMeaning = { quantity: "time-of-some-kind", number: null, unit: null, raw: false, statedSign: null };
  return meanings.map((meaning, field) => (field === dated ? time : meaning));
}

/**
 * The shape of a file's header: its delimiter and its headings, the same for every export of one program and setting. Null where the
 * lines are no table.
 */
export function headerShape(lines: readonly string[]): string | null {
  const header: { readonly delimiter: Delimiter; readonly headers: readonly string[] } | null =
    findHeader(lines, undefined) ?? guessHeader(lines);
  if (header === null) return null;
  return JSON.stringify([header.delimiter, ...header.headers]);
}

/** What a person answered about the columns of a file. */
export interface ColumnAnswers {
  readonly mapping: ColumnMapping;
  /** IANA zone of its dates; null where they name their own, or where nobody was asked. */
  readonly timeZone: string | null;
}
