import fc from "fast-check";
import { expect, test } from "vitest";
import { calendarDate, daysBetween, isCalendarDate, plusDays, plusMonths } from "@/lib/warranty/calendar";
import { civilDateAt, isTimeZone } from "@/lib/warranty/place-of-sale";
import { anyDate } from "./any-date";

test("days that do not exist are no dates", () => {
  for (const wrong of ["2025-02-30", "2025-02-29", "2100-02-29", "2025-13-01", "2025-00-10", "2025-04-31"]) {
    expect(isCalendarDate(wrong), wrong).toBe(false);
    expect(() => calendarDate(wrong)).toThrow(RangeError);
  }
  for (const right of ["2024-02-29", "2000-02-29", "1900-01-01", "2199-12-31"])
    expect(isCalendarDate(right)).toBe(true);
});

test("other ways of writing a date are not guessed at", () => {
  for (const other of [
    "2025-2-3",
    "03/02/2025",
    "2025-02-03T00:00:00Z",
    " 2025-02-03",
    "20250203",
    "1899-12-31",
    "2200-01-01",
    "",
  ]) {
    expect(isCalendarDate(other), other).toBe(false);
  }
});

test("adding days and counting them are inverse", () => {
  fc.assert(
    fc.property(anyDate, fc.integer({ min: -5000, max: 5000 }), (date, days) => {
      expect(daysBetween(date, plusDays(date, days))).toBe(days);
    }),
  );
});

test("adding months keeps the day or gives the last of the month", () => {
  fc.assert(
    fc.property(anyDate, fc.integer({ min: 0, max: 600 }), (date, months) => {
      const later = plusMonths(date, months);
      const month = (Number(date.slice(5, 7)) - 1 + months) % 12;
      expect(Number(later.slice(5, 7)) - 1).toBe(month);
      const isSameDay = later.slice(8) === date.slice(8);
      const isLastOfMonth = plusDays(later, 1).endsWith("-01");
      expect(isSameDay || (later.slice(8) < date.slice(8) && isLastOfMonth)).toBe(true);
    }),
  );
});

test("a part of a month or of a day cannot be added", () => {
  expect(() => plusMonths(calendarDate("2024-01-01"), 0.5)).toThrow(RangeError);
  expect(() => plusDays(calendarDate("2024-01-01"), Number.NaN)).toThrow(RangeError);
});

test("the day of an instant is that of the wall calendar of the place, whatever the zone of this machine", () => {
  const instant = new Date("2026-02-28T22:30:00Z");
  expect(civilDateAt(instant, "Europe/Berlin")).toBe("2026-02-28");
  expect(civilDateAt(instant, "Asia/Kathmandu")).toBe("2026-03-01");
  expect(civilDateAt(instant, "America/New_York")).toBe("2026-02-28");
});

// Samoa left out 30 December 2011 when it moved across the date line (IANA time-zone database, Pacific/Apia).
test("a day that a place left out never comes", () => {
  expect(civilDateAt(new Date("2011-12-30T09:59:59Z"), "Pacific/Apia")).toBe("2011-12-29");
  expect(civilDateAt(new Date("2011-12-30T10:00:00Z"), "Pacific/Apia")).toBe("2011-12-31");
});

test("zones of the IANA database are known, and nothing else is", () => {
  for (const zone of ["Europe/Berlin", "UTC", "Pacific/Chatham"]) expect(isTimeZone(zone), zone).toBe(true);
  for (const other of ["Mars/Base", "+02:00", "", "Berlin", "Europe/Berlin "])
    expect(isTimeZone(other), other).toBe(false);
  expect(() => civilDateAt(new Date(0), "Mars/Base")).toThrow(RangeError);
  expect(() => civilDateAt(new Date(Number.NaN), "UTC")).toThrow(RangeError);
});
