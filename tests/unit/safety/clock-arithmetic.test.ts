import { expect, test } from "vitest";
import { limitEnd } from "@/lib/safety/clock-arithmetic";
import { reportingClocks } from "@/lib/safety/reporting-clocks";
import { countriesWithoutClock, runClocks } from "@/lib/safety/run-clocks";
import { calendarDate } from "@/lib/warranty/calendar";

const clockOf = (id: string) => {
  const found = reportingClocks.clocks.find((clock) => clock.id === id);
  if (found === undefined) throw new Error(`no clock ${id}`);
  return found;
};
const endOf = (id: string, start: string, holidays: string[] = []) => {
  const { limit, zone } = clockOf(id);
  return limitEnd(limit, new Date(start), zone, holidays.map(calendarDate))?.toISOString() ?? null;
};

// Source of the three worked examples: productsafety.gov.au, mandatory reporting: "If a supplier becomes aware of a
// reportable incident on a Thursday, Friday or Saturday then the report is normally due by midnight on the next Monday.
// If that Monday is a public holiday, the report becomes due by midnight on the Tuesday."
test.for([
  ["Thursday", "2026-06-04T02:00:00Z", [], "2026-06-08T14:00:00.000Z"],
  ["Friday", "2026-06-05T02:00:00Z", [], "2026-06-08T14:00:00.000Z"],
  ["Saturday", "2026-06-06T02:00:00Z", [], "2026-06-08T14:00:00.000Z"],
  ["Saturday before a public holiday on Monday", "2026-06-06T02:00:00Z", ["2026-06-08"], "2026-06-09T14:00:00.000Z"],
] as const)("Australian Consumer Law, section 131: aware on a %s", ([, start, holidays, end]) => {
  expect(endOf("au-injury", start, [...holidays])).toBe(end);
});

test("Australian clock: the day of becoming aware is that of Sydney, not of the server", () => {
  // 2 June 2026 23:30 in Sydney: the two days are the 3rd and the 4th.
  expect(endOf("au-injury", "2026-06-02T13:30:00Z")).toBe("2026-06-04T14:00:00.000Z");
  expect(endOf("au-injury", "2026-06-02T14:30:00Z")).toBe("2026-06-05T14:00:00.000Z");
});

// Source: 16 CFR 1115.14(a): "Weekends and holidays are excluded from the computation of the time periods in this part."
test("16 CFR 1115.14: 24 hours leave weekends and holidays out", () => {
  expect(endOf("us-cpsc-report", "2026-06-03T15:00:00Z")).toBe("2026-06-04T15:00:00.000Z");
  // Friday noon in New York: twelve hours of Friday, then Monday until noon.
  expect(endOf("us-cpsc-report", "2026-06-05T16:00:00Z")).toBe("2026-06-08T16:00:00.000Z");
  expect(endOf("us-cpsc-report", "2026-06-05T16:00:00Z", ["2026-06-08"])).toBe("2026-06-09T16:00:00.000Z");
  // Known on a Sunday: the count begins with Monday.
  expect(endOf("us-cpsc-report", "2026-06-07T16:00:00Z")).toBe("2026-06-09T04:00:00.000Z");
});

test("16 CFR 1115.14(b) and (d): 5 and 10 days are working days", () => {
  expect(endOf("us-cpsc-knowledge", "2026-06-05T16:00:00Z")).toBe("2026-06-13T04:00:00.000Z");
  expect(endOf("us-cpsc-investigation", "2026-06-05T16:00:00Z")).toBe("2026-06-20T04:00:00.000Z");
});

// Source: 49 CFR 573.6(b): "not more than 5 working days after a defect … has been determined to be safety related".
test("49 CFR 573.6: nothing runs before a named person has found the defect to be safety-related", () => {
  const facts = { firstKnownAt: new Date("2026-06-01T10:00:00Z"), countries: ["US"], determinedAt: null };
  const before = runClocks(reportingClocks, facts, {}, new Date("2026-06-20T10:00:00Z"));
  expect(before.find(({ clock }) => clock.id === "us-vehicle-defect")).toMatchObject({
    mayRunSince: null,
    state: "waits-for-determination",
  });
  const after = runClocks(
    reportingClocks,
    { ...facts, determinedAt: new Date("2026-06-05T16:00:00Z") },
    {},
    new Date("2026-06-08T10:00:00Z"),
  );
  expect(after.find(({ clock }) => clock.id === "us-vehicle-defect")?.endsAt?.toISOString()).toBe(
    "2026-06-13T04:00:00.000Z",
  );
});

// Source: Canada Consumer Product Safety Act, section 14(2) and (3): two days, and ten days, "after the day".
test("Canadian clocks count calendar days after the day of becoming aware", () => {
  expect(endOf("ca-incident", "2026-06-05T16:00:00Z")).toBe("2026-06-08T04:00:00.000Z");
  expect(endOf("ca-written-report", "2026-06-05T16:00:00Z")).toBe("2026-06-16T04:00:00.000Z");
});

// Sources: Regulation (EU) 2023/988, Article 20(1): without undue delay; General Product Safety Regulations 2005 (from memory).
test("clocks without a date say that every hour counts and are never over or gone", () => {
  expect(endOf("eu-accident", "2026-06-05T16:00:00Z")).toBeNull();
  const running = runClocks(
    reportingClocks,
    { firstKnownAt: new Date("2026-06-05T16:00:00Z"), countries: ["DE", "GB"], determinedAt: null },
    {},
    new Date("2027-06-05T16:00:00Z"),
  );
  expect(running.filter(({ state }) => state === "every-hour-counts").map(({ clock }) => clock.id)).toEqual([
    "eu-accident",
    "eu-dangerous-product",
    "xi-accident",
    "xi-dangerous-product",
    "uk-unsafe-product",
  ]);
  // Regulation (EU) 2023/988 applies in Northern Ireland too (Windsor Framework, Annex 2; from memory: verify).
  expect(clockOf("xi-accident").limitInWords.mark.kind).toBe("from-memory");
});

// Source: productsafety.gov.au (events overseas count); Canada Consumer Product Safety Act, section 14(1)(a) ("in Canada or elsewhere").
test("clocks that also run for events overseas are shown wherever it happened", () => {
  const running = runClocks(
    reportingClocks,
    { firstKnownAt: new Date("2026-06-05T16:00:00Z"), countries: ["IN"], determinedAt: null },
    {},
    new Date("2026-06-05T17:00:00Z"),
  );
  expect(running.map(({ clock }) => clock.id).sort()).toEqual([
    "ask-counsel-in",
    "au-injury",
    "ca-incident",
    "ca-written-report",
  ]);
});

test("what is over stands first, and days of 23 and 25 hours are counted as they are", () => {
  const running = runClocks(
    reportingClocks,
    { firstKnownAt: new Date("2026-06-01T16:00:00Z"), countries: ["US", "DE"], determinedAt: null },
    {},
    new Date("2026-06-30T17:00:00Z"),
  );
  expect(running[0]?.state).toBe("over");
  expect(running.at(-1)?.state).toBe("waits-for-determination");
  // The clocks of New York go back on Sunday, 1 November 2026: from Friday noon to Monday noon the offset changes.
  expect(endOf("us-cpsc-report", "2026-10-30T16:00:00Z")).toBe("2026-11-02T17:00:00.000Z");
});

test("every clock says where its words were read, or that they are from memory", () => {
  expect(clockOf("uk-unsafe-product").trigger.mark.kind).toBe("from-memory");
  for (const id of ["eu-accident", "us-cpsc-report", "us-vehicle-defect", "au-injury", "ca-incident"]) {
    expect(clockOf(id).limitInWords.mark.kind).toBe("read");
  }
});

test("for a country without a clock counsel is asked, from first knowledge on, and every hour counts", () => {
  const firstKnownAt = new Date("2026-06-01T16:00:00Z");
  const facts = { firstKnownAt, countries: ["DE", "IN"], determinedAt: null };
  const running = runClocks(reportingClocks, facts, {}, new Date("2026-06-02T16:00:00Z"));
  const asked = running.filter(({ clock }) => clock.id.startsWith("ask-counsel"));
  expect(asked).toMatchObject([
    { clock: { id: "ask-counsel-in", place: "India" }, mayRunSince: firstKnownAt, state: "every-hour-counts" },
  ]);
});

test("a country whose law has no clock here is named, and one with a clock that runs everywhere is not", () => {
  expect(countriesWithoutClock(reportingClocks, ["AU", "CA", "DE", "GB", "IN", "US"])).toEqual(["IN"]);
});
