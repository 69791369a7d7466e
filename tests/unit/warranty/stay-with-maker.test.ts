import { expect, test } from "vitest";
import { stayWithMaker, stopTheClock, timeWithUs } from "@/lib/warranty/absences";
import { calendarDate as day } from "@/lib/warranty/calendar";

const at = (text: string) => new Date(text);
const zone = "Europe/Berlin";

// Common practice, no source: the clock stands still until the customer has it back, not until somebody decided.
test("the time with the maker ends when the pack is handed back, and with the decision only where nothing tells when", () => {
  const lodgedAt = at("2026-03-01T09:00:00Z");
  const decided = { remedy: "repair", decidedAt: at("2026-03-11T09:00:00Z") };
  expect(stayWithMaker({ lodgedAt, decided, handedBackAt: at("2026-03-29T09:00:00Z"), zone })).toEqual([
    { handedOverOn: "2026-03-01", backOn: "2026-03-29" },
  ]);
  expect(stayWithMaker({ lodgedAt, decided, handedBackAt: null, zone })).toEqual([
    { handedOverOn: "2026-03-01", backOn: "2026-03-11" },
  ]);
  expect(stayWithMaker({ lodgedAt, decided: null, handedBackAt: null, zone })).toEqual([]);
  const remote = { ...decided, remedy: "remote-fix" };
  expect(stayWithMaker({ lodgedAt, decided: remote, handedBackAt: null, zone })).toEqual([]);
});

// Calendar dates in the zone of the place of sale, never UTC: the rule of the window, with its two cities.
test.each([
  // Lodged 8:10 in the morning of 2 March in Sydney, still 1 March in UTC; back at 16:00 on the 12th.
  ["Australia/Sydney", "2026-03-01T21:10:00Z", "2026-03-12T05:00:00Z", "2026-03-02", "2026-03-12", 10],
  // Lodged at noon of 2 March in Los Angeles; back at 17:30 on the 12th, already the 13th in UTC.
  ["America/Los_Angeles", "2026-03-02T20:00:00Z", "2026-03-13T00:30:00Z", "2026-03-02", "2026-03-12", 10],
])("in %s the days away are those of its own calendar", (place, lodged, back, handedOverOn, backOn, days) => {
  const decided = { remedy: "repair", decidedAt: at(back) };
  const stays = stayWithMaker({ lodgedAt: at(lodged), decided, handedBackAt: at(back), zone: place });
  expect(stays).toEqual([{ handedOverOn, backOn }]);
  const period = { startsOn: day("2024-03-15"), endsOn: day("2026-03-15") };
  expect(stopTheClock(period, stays, day("2026-03-25")).days).toBe(days);
});

const way = {
  leftUserOn: null,
  backWithUserOn: null,
  isElsewhere: false,
  lodgedOn: day("2026-03-01"),
  handedBackOn: day("2026-03-29"),
  decidedOn: day("2026-03-11"),
};

// Common practice, no source: the clock stands still until the customer has it back, not until somebody decided.
test("the time with us ends when the pack is handed back, and with the decision only where nothing tells when", () => {
  expect(timeWithUs(way)).toEqual({ handedOverOn: "2026-03-01", backOn: "2026-03-29" });
  expect(timeWithUs({ ...way, handedBackOn: null })).toEqual({ handedOverOn: "2026-03-01", backOn: "2026-03-11" });
});

test("a decision gives no pack back that scans have in the workshop", () => {
  const decided = { ...way, handedBackOn: null, isElsewhere: true };
  expect(timeWithUs(decided)).toEqual({ handedOverOn: "2026-03-01", backOn: null });
  expect(timeWithUs({ ...decided, handedBackOn: day("2026-03-29") })).toMatchObject({ backOn: "2026-03-29" });
});

test("scans of custody say more exactly when it left its user and when it was back", () => {
  const scanned = { ...way, leftUserOn: day("2026-02-27"), backWithUserOn: day("2026-04-02") };
  expect(timeWithUs(scanned)).toEqual({ handedOverOn: "2026-02-27", backOn: "2026-04-02" });
});
