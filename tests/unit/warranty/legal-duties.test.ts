import { expect, test } from "vitest";
import { calendarDate } from "@/lib/warranty/calendar";
import { legalDuties } from "@/lib/warranty/legal-duties";
import { legalDutyOn as dutyUnder, type LegalDuty, sayCounsel } from "@/lib/warranty/legal-duty";
import { legalDutyProposalSchema, writeSources } from "@/lib/warranty/legal-duty.schema";

const legalDutyOn = (
  country: string,
  soldOn: LegalDuty["salesFrom"],
  duties = legalDuties,
  answeredOn = calendarDate("2026-12-01"),
) => dutyUnder(country, soldOn, { duties, answeredOn });

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

test("an answer keeps the row of its own day: a row the house agreed on counts from its first day, also for earlier sales", () => {
  const soldOn = calendarDate("2024-05-01");
  const atSetUp = legalDutyOn("DE", soldOn);
  if (atSetUp === null) throw new Error("no row for DE");
  const later = { ...atSetUp, version: "DE-2027", months: 30, countsFrom: calendarDate("2027-01-01") };
  const evenLater = { ...later, version: "DE-2028", months: 36, countsFrom: calendarDate("2028-01-01") };
  const on = (day: string) => legalDutyOn("DE", soldOn, [evenLater, ...legalDuties, later], calendarDate(day))?.version;
  expect(["2026-12-31", "2027-01-01", "2027-12-31", "2028-01-01"].map(on)).toEqual([
    "set-up",
    "DE-2027",
    "DE-2027",
    "DE-2028",
  ]);
  expect(
    legalDutyOn("DE", calendarDate("2026-08-01"), [later, ...legalDuties], calendarDate("2027-06-01"))?.version,
  ).toBe("set-up");
});

test("a row no counsel looked at says so, and one that counsel confirmed names counsel and the day", () => {
  expect(sayCounsel(null)).toMatch(/^To be confirmed by counsel/);
  for (const row of legalDuties) expect(sayCounsel(row)).toMatch(/^To be confirmed by counsel/);
  const word = {
    counselName: "Ines Okonjo",
    counselQualification: "admitted in Berlin",
    statement: "Compared with the law.",
    confirmedOn: calendarDate("2026-11-30"),
    recordedByName: "Manon",
  };
  expect(sayCounsel({ confirmation: word })).toMatch(/^Confirmed by counsel: Ines Okonjo, 30 November 2026/);
});

const typed = (over: Record<string, string> = {}) => ({
  version: "DE-2027",
  country: "de",
  salesFrom: "2022-01-01",
  validFrom: "2027-01-01",
  months: "24",
  insteadOfMonths: "",
  burdenMonths: "12",
  rejectDays: "",
  monthsAfterRepair: "",
  repairsThatLengthen: "",
  consumerChooses: "yes",
  informBeforeRemedy: "no",
  refurbishedOnRequest: "no",
  sources: "Directive (EU) 2019/771, Art. 10 [read in a summary]",
  why: "Counsel compared it with the law.",
  ...over,
});
const problemsOf = (over: Record<string, string>) =>
  legalDutyProposalSchema
    .safeParse(typed(over))
    .error?.issues.map(({ path, message }) => `${path.join(".")}: ${message}`);

test("a proposed row reads back as its form shows it, sources with their marks included", () => {
  for (const row of legalDuties) {
    const again = legalDutyProposalSchema.parse(typed({ sources: writeSources(row.sources) }));
    expect(again.sources).toEqual(row.sources);
  }
  expect(legalDutyProposalSchema.parse(typed())).toMatchObject({ country: "DE", months: 24, monthsAfterRepair: 0 });
  expect(legalDutyProposalSchema.parse(typed({ repairsThatLengthen: "4" })).repairsThatLengthen).toBe(4);
  expect(legalDutyProposalSchema.parse(typed()).repairsThatLengthen).toBe(1);
});

test("a row without a source, without a mark, or with both a time and something in its place is refused at its field", () => {
  expect(problemsOf({ sources: "" })).toEqual(["sources: A row of law names its source."]);
  expect(problemsOf({ sources: "BGB 438 [from a friend]" })?.[0]).toMatch(/^sources: Line 1: name the law/);
  expect(problemsOf({ months: "" })?.[0]).toMatch(/^insteadOfMonths: Give the months, or say/);
  expect(problemsOf({ insteadOfMonths: "As long as is usual." })?.[0]).toMatch(/^insteadOfMonths/);
  expect(problemsOf({ months: "two years" })?.[0]).toMatch(/^months: A whole number/);
  expect(problemsOf({ country: "UK" })?.[0]).toMatch(/^country/);
  expect(problemsOf({ version: "Set-up" })?.[0]).toMatch(/^version: This name is taken/);
});
