import { expect, test } from "vitest";
import { calendarDate } from "@/lib/warranty/calendar";
import { legalDutyOn } from "@/lib/warranty/legal-duties";

// Directive (EU) 2019/771, Art. 10(3): a state may keep longer times, or none that is fixed. Which do is from memory: verify.
test.for(["IE", "NL", "FI"])("%s names no fixed time, and the union's later additions hold there too", (country) => {
  const before = legalDutyOn(country, calendarDate("2024-05-01"));
  expect(before).toMatchObject({ months: null, burdenMonths: 12, informBeforeRemedy: false });
  expect(before?.insteadOfMonths).toMatch(/no fixed time/);
  const since = legalDutyOn(country, calendarDate("2026-08-01"));
  expect(since).toMatchObject({ months: null, informBeforeRemedy: true, refurbishedOnRequest: true });
  expect(since?.sources.some(({ mark }) => mark === "from memory: verify")).toBe(true);
});

test("every member state of the union is held, so that no dealer there reads that nothing is known", () => {
  const union = "AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI SK".split(" ");
  expect(union.filter((country) => legalDutyOn(country, calendarDate("2026-08-01")) === null)).toEqual([]);
});
