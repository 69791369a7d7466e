export type DayOrder = "year-first" | "day-first" | "month-first";

export interface DateTimeRead {
  /** Unix seconds; a time without zone is read as if it were UTC. */
  readonly unixS: number;
  readonly hasZone: boolean;
}

const yearFirst = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})(?:(?:T|t|\s+)(.*))?$/;
/** Two digits of a year after dots and slashes only: between hyphens they may as well stand first. */
const yearLast = /^(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|(?<=[/.])\d{2})(?:(?:T|t|,?\s+)(.*))?$/;
const clock =
  /^(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,9})\d*)?)?\s*(?:([AaPp])\.?[Mm]\.?)?\s*(Z|z|UTC|[+-]\d{2}:?\d{2})?$/;

/** A date whose day and month the dates do not tell apart. */
export type OpenDayOrder = Exclude<DayOrder, "year-first">;

/**
 * Reads a date, or date and time of day, in the order given. Null where the text is no such date or the day does not exist.
 * Method: fields by pattern (ISO 8601 extended form and its common relatives), days by the proleptic Gregorian calendar.
 * A year of two digits is one of this century: no pack is older.
 */
export function readDateTime(text: string, order: DayOrder): DateTimeRead | null {
  const match = (order === "year-first" ? yearFirst : yearLast).exec(text);
  if (match === null) return null;
  const [, first = "", , second = "", third = "", rest] = match;
  const year =
    Number(order === "year-first" ? first : third) + (order !== "year-first" && third.length === 2 ? 2000 : 0);
  const month = Number(order === "day-first" ? second : order === "month-first" ? first : second);
  const day = Number(order === "year-first" ? third : order === "day-first" ? first : second);
  const dayStartS = Date.UTC(year, month - 1, day) / 1000;
  if (!existsInCalendar(dayStartS, year, month, day)) return null;
  if (rest === undefined || rest === "") return { unixS: dayStartS, hasZone: false };
  const time = readClock(rest);
  return time === null ? null : { unixS: dayStartS + time.secondsOfDay - time.zoneOffsetS, hasZone: time.hasZone };
}

function existsInCalendar(dayStartS: number, year: number, month: number, day: number): boolean {
  const date = new Date(dayStartS * 1000);
  return date.getUTCFullYear() === year && date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
}

export interface ClockRead {
  readonly secondsOfDay: number;
  readonly zoneOffsetS: number;
  readonly hasZone: boolean;
}

/** Reads "13:05", "13:05:07.25", "1:05 pm", with an optional zone. Null where it is no time of day (hours up to 24). */
export function readClock(text: string): ClockRead | null {
  const match = clock.exec(text.trim());
  if (match === null) return null;
  const [, hourText = "", minute = "", second = "0", fraction = "0", half, zone] = match;
  const hour12 = Number(hourText);
  if (half !== undefined && (hour12 < 1 || hour12 > 12)) return null;
  const hour = half === undefined ? hour12 : (hour12 % 12) + (half.toLowerCase() === "p" ? 12 : 0);
  if (hour > 24 || Number(minute) > 59 || Number(second) > 60) return null;
  const secondsOfDay = hour * 3600 + Number(minute) * 60 + Number(second) + Number(`0.${fraction}`);
  if (zone === undefined) return { secondsOfDay, zoneOffsetS: 0, hasZone: false };
  const offset = /^([+-])(\d{2}):?(\d{2})$/.exec(zone);
  const [, sign = "+", hours = "0", minutes = "0"] = offset ?? [];
  const zoneOffsetS = (sign === "-" ? -1 : 1) * (Number(hours) * 3600 + Number(minutes) * 60);
  return { secondsOfDay, zoneOffsetS, hasZone: true };
}

/** Reads a duration "hhh:mm:ss(.fff)" in seconds; null where it is none. */
export function readDuration(text: string): number | null {
  const match = /^(\d{1,6}):([0-5]?\d):([0-5]?\d(?:[.,]\d{1,9})?)$/.exec(text.trim());
  if (match === null) return null;
  return Number(match[1]) * 3600 + Number(match[2]) * 60 + Number((match[3] ?? "0").replace(",", "."));
}

/**
 * Order of day and month in the dates of a file, from some of them. Dots mean day first (common practice, no source); slashes and
 * hyphens are decided by a field above 12, and "ambiguous" where none is: a wrong guess would move a reading by months.
 * Null where the texts are no dates.
 */
export function dayOrderOf(texts: readonly string[]): DayOrder | "ambiguous" | null {
  const present = texts.filter((text) => text !== "");
  if (present.length === 0) return null;
  if (present.every((text) => yearFirst.test(text))) return "year-first";
  const matches = present.map((text) => yearLast.exec(text)).filter((match) => match !== null);
  if (matches.length < present.length / 2 || matches.length === 0) {
    const isoShare = present.filter((text) => yearFirst.test(text)).length / present.length;
    return isoShare > 0.5 ? "year-first" : null;
  }
  if (matches.some((match) => match[2] === ".") || matches.some((match) => Number(match[1]) > 12)) return "day-first";
  return matches.some((match) => Number(match[3]) > 12) ? "month-first" : "ambiguous";
}

/**
 * The order of day and month in which dates that do not tell it lie closer together: rows follow each other by the day, not by the
 * month. Null where both orders put them equally far apart.
 */
export function closerOrder(texts: readonly string[]): OpenDayOrder | null {
  const spanS = (order: OpenDayOrder) => {
    const times = texts.flatMap((text) => readDateTime(text, order)?.unixS ?? []);
    return Math.max(...times) - Math.min(...times);
  };
  const [dayFirstS, monthFirstS] = [spanS("day-first"), spanS("month-first")];
  if (dayFirstS === monthFirstS) return null;
  return dayFirstS < monthFirstS ? "day-first" : "month-first";
}
