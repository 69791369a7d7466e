import { type CalendarDate, calendarDate } from "./calendar";

// Intl rather than a zoned date object: it asks the time-zone table of the platform directly, refuses an unknown zone
// loudly, and needs no detour through offsets.
const formatters = new Map<string, Intl.DateTimeFormat>();

/** Whether this is a zone name of the IANA time-zone database. A bare offset is none: it knows no summer time. */
export function isTimeZone(zone: string): boolean {
  if (!/^[A-Za-z]/.test(zone)) return false;
  try {
    formatterOf(zone);
    return true;
  } catch (error) {
    if (error instanceof RangeError) return false;
    throw error;
  }
}

/**
 * The calendar date at a place at a given instant, e.g. what the wall calendar showed in the place of sale when the
 * customer told the dealer. Throws RangeError for an unknown zone or an invalid instant.
 */
export function civilDateAt(instant: Date, zone: string): CalendarDate {
  const found = new Map(
    formatterOf(zone)
      .formatToParts(instant)
      .map((part) => [part.type, part.value]),
  );
  return calendarDate(`${found.get("year")}-${found.get("month")}-${found.get("day")}`);
}

function formatterOf(zone: string): Intl.DateTimeFormat {
  const known = formatters.get(zone);
  if (known !== undefined) return known;
  const formatter = new Intl.DateTimeFormat("en-u-ca-iso8601-nu-latn", {
    timeZone: zone,
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
  });
  formatters.set(zone, formatter);
  return formatter;
}
