import { TZDate } from "@date-fns/tz";

/**
 * An instant on the clock of a place, with its offset: 2026-03-16T00:40:00.000+01:00. Throws RangeError for a zone that
 * is no IANA name, because an instant in an unknown zone says nothing.
 */
export function localInstant(at: Date, zone: string): string {
  const local = new TZDate(at.getTime(), zone);
  if (Number.isNaN(local.getTime())) throw new RangeError(`zone: ${zone} is unknown`);
  return local.toISOString();
}

/** The last millisecond of a calendar day (YYYY-MM-DD) on the clock of a place. */
export function endOfDay(day: string, zone: string): Date {
  const [year = 0, month = 1, date = 1] = day.split("-").map(Number);
  return new Date(new TZDate(year, month - 1, date, 23, 59, 59, 999, zone).getTime());
}
