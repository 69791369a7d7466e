import Papa from "papaparse";
import { expect, test } from "vitest";
import type { RunningCell } from "@/lib/reliability/cover-basis";
import { type CoverForecast, forecastGroup } from "@/lib/reliability/cover-forecast";
import { forecastCsv } from "@/lib/reliability/forecast-csv";
import { forecastCaveats, forecastRefusalWords, forecastSentence } from "@/lib/reliability/forecast-sentences";
import { totalForecast } from "@/lib/reliability/forecast-total";
import { cutBack, hiddenDays } from "@/lib/reliability/hidden-exposure";
import { countCells, type LifeCell } from "@/lib/reliability/life-cell";
import { DAYS_PER_MONTH } from "@/lib/reliability/months-in-service";
import { priced } from "@/lib/reliability/priced-forecast";
import { knownAtOnce } from "@/lib/reliability/reporting-lag";
import { reserveCsv } from "@/lib/reliability/reserve-csv";
import { reserveCaveats, reserveSentence, sayHeld } from "@/lib/reliability/reserve-sentences";
import { chanceOfFailing } from "@/lib/stats/part-weibull";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { calendarDate } from "@/lib/warranty/calendar";

function cell(exitDays: number, status: LifeCell["status"], packs: number, slackDays = 92): LifeCell {
  return {
    line: "confirmed",
    group: "A",
    stratum: "M",
    dispatched: true,
    entryDays: 0,
    exitDays,
    slackDays,
    status,
    detail: null,
    packs,
  };
}

/** Weibull(1.5, 3000 days) by its quantiles, watched for two years: 5,000 packs. */
const quantiles = Array.from({ length: 5000 }, (_, i) =>
  Math.max(1, Math.round(3000 * (-Math.log(1 - (i + 0.5) / 5000)) ** (1 / 1.5))),
);
const failedAges = quantiles.filter((age) => age <= 730);
const fleet = [...failedAges.map((age) => cell(age, "failed", 1)), cell(730, "running", 5000 - failedAges.length, 0)];
const young: RunningCell[] = [{ ageDays: 200, coverLeftDays: null, packs: 2000 }];

function at(forecasts: readonly CoverForecast[], months: number) {
  const found = forecasts.find((one) => one.months === months);
  if (found?.kind !== "forecast") throw new Error(`a forecast is expected, got ${JSON.stringify(found)}`);
  return found;
}

test("without ends of cover and without lag it is the plain forecast of the fit", () => {
  const fit = fitWeibull(countCells(fleet, "confirmed"));
  if (fit.kind !== "fit") throw new Error("a fit is expected");
  const hazard = (age: number) => (age / fit.scale) ** fit.shape;
  const plain = 2000 * chanceOfFailing(1, hazard(200), hazard(200 + 6 * DAYS_PER_MONTH));
  expect(at(forecastGroup(fleet, young, knownAtOnce, 0).forecasts, 6).expected).toBeCloseTo(plain, 9);
});

test("the known law of the fleet lies within the limits, and near the expected number", () => {
  const surviving = (age: number) => Math.exp(-((age / 3000) ** 1.5));
  const truth = 2000 * (1 - surviving(200 + 6 * DAYS_PER_MONTH) / surviving(200));
  const { expected, lower, upper } = at(forecastGroup(fleet, young, knownAtOnce, 0).forecasts, 6);
  expect(Math.abs(expected / truth - 1)).toBeLessThan(0.02);
  expect(lower).toBeLessThan(truth);
  expect(upper).toBeGreaterThan(truth);
});

test("cover that ends in three months counts no failure after it, and cover that ended counts none", () => {
  const ending = young.map((one) => ({ ...one, coverLeftDays: 3 * DAYS_PER_MONTH }));
  const { forecasts } = forecastGroup(fleet, ending, knownAtOnce, 0);
  expect(at(forecasts, 12).expected).toBeCloseTo(at(forecasts, 3).expected, 9);
  const over = young.map((one) => ({ ...one, coverLeftDays: 0 }));
  expect(at(forecastGroup(fleet, over, knownAtOnce, 0).forecasts, 12)).toMatchObject({
    expected: 0,
    lower: 0,
    upper: 0,
  });
});

test("failures still on their way are the hidden days of age times the hazard", () => {
  // Nothing known for 10 days, everything after: 3 packs of age 100 hide 10 days each.
  const reporting = { shareKnown: (lag: number) => (lag < 10 ? 0 : 1), longestLagDays: 10 };
  const hidden = hiddenDays([cell(100, "running", 3, 0), cell(100, "failed", 7, 0)], reporting);
  expect(hidden.map(({ ageDays, packs }) => [ageDays, packs])).toEqual(
    Array.from({ length: 10 }, (_, i) => [91 + i, 3]),
  );
  // Cover that ended 4 days ago hides 6 days before its end.
  expect(hiddenDays([cell(50, "cover-ended", 1, 4)], reporting).map(({ ageDays }) => ageDays)).toEqual([
    45, 46, 47, 48, 49, 50,
  ]);
  const late = forecastGroup(fleet, young, reporting, 0);
  const hazardBy = (age: number) => (age / 3000) ** 1.5;
  expect(at(late.forecasts, 6).unreported / (fleet.at(-1)?.packs ?? 0) / (hazardBy(730) - hazardBy(720))).toBeCloseTo(
    1,
    1,
  );
});

test("lives are cut back to what was reported for good", () => {
  expect(cutBack([cell(100, "failed", 1, 5), cell(100, "failed", 1, 30), cell(10, "running", 4, 0)], 30)).toEqual([
    { ...cell(75, "running", 1, 30) },
    cell(100, "failed", 1, 30),
  ]);
});

test("too few failures, nothing in use and horizons nobody has lived are refused by name", () => {
  const reasons = (cells: LifeCell[], running: RunningCell[]) =>
    forecastGroup(cells, running, knownAtOnce, 0).forecasts.map((one) =>
      one.kind === "refused" ? one.reason : "told",
    );
  expect(reasons(fleet, [])).toEqual(["nothing-running", "nothing-running", "nothing-running"]);
  expect(reasons([], young)).toEqual(["too-few-failures", "too-few-failures", "too-few-failures"]);
  expect(reasons([cell(40, "failed", 1), cell(50, "failed", 3), cell(400, "running", 90)], young)).toEqual([
    "too-few-failures",
    "too-few-failures",
    "too-few-failures",
  ]);
  const short = [10, 30, 50, 70, 90, 110].map((age) => cell(age, "failed", 1));
  expect(reasons([...short, cell(120, "running", 500)], [{ ageDays: 10, coverLeftDays: null, packs: 500 }])).toEqual([
    "told",
    "horizon-beyond-observed-ages",
    "horizon-beyond-observed-ages",
  ]);
  expect(reasons([...short, cell(120, "running", 500)], [{ ageDays: 119, coverLeftDays: null, packs: 500 }])[0]).toBe(
    "mostly-beyond-observed-ages",
  );
});

test("what is refused for the ages it reaches says how far ahead it can be told, and before which day it cannot", () => {
  const short = [10, 30, 50, 70, 90, 110].map((age) => cell(age, "failed", 1));
  const watched = [...short, cell(120, "running", 500)];
  const refusedAt = (ageDays: number, months: number) => {
    const running: RunningCell[] = [{ ageDays, coverLeftDays: null, packs: 500 }];
    const found = forecastGroup(watched, running, knownAtOnce, 0).forecasts.find((one) => one.months === months);
    if (found?.kind !== "refused") throw new Error("a refusal is expected");
    return found;
  };
  // Packs aged 10 days in a law seen up to 120: 120 days ahead are the most that is asked of it, 10 of them at ages not seen.
  const tooLong = refusedAt(10, 6);
  expect(tooLong.tellable).toEqual({ forDays: 120, earliestInDays: 63 });
  // 2026-11-30 and 63 days; 6 months are 183 days less 120.
  expect(forecastRefusalWords(tooLong, calendarDate("2026-11-30"))).toBe(
    "what is settled of it does not reach so far, on 1 February 2027 at the earliest while failures are confirmed as late as now; up to 120 days ahead it can be told",
  );
  // Of packs aged 70 days half of about 100 days ahead lie at ages seen: that far it is told, not for the next 3 months and more.
  const { forDays } = refusedAt(80, 3).tellable;
  expect(forDays).toBeGreaterThan(70);
  expect(forDays).toBeLessThan(91);
  // A day before its end nothing can be told of an old fleet but what is on its way.
  expect(refusedAt(119, 3).tellable.forDays).toBeLessThanOrEqual(2);
  const none = forecastGroup([], young, knownAtOnce, 0).forecasts[0];
  expect(none).toMatchObject({ kind: "refused", tellable: { forDays: null, earliestInDays: null } });
});

test("totals add what is expected, and their limits are narrower than the sums of the limits", () => {
  const one = { ...forecastGroup(fleet, young, knownAtOnce, 0), group: "A" };
  const none = { ...forecastGroup([], young, knownAtOnce, 0), group: "B" };
  const { expected, lower, upper } = at(one.forecasts, 6);
  const total = totalForecast([one, one, none], 6);
  expect(total).toMatchObject({
    expected: 2 * expected,
    groups: 2,
    leftOut: [{ group: "B", isOfAges: false }],
    packsLeftOut: 2000,
  });
  expect(forecastCaveats(total)).toMatch(
    /^Revision B is not in it \(2,000 packs under cover\): its failures carry no forecast \(fewer than 5 and no law lent by others of the model, or too few packs watched for a limit, or of ages that fit no law\)\.$/,
  );
  expect(reserveCaveats(totalForecast([one, none], "cover-end"))).toMatch(/^Revision B is not in it/);
  // Where failures are missing no waiting is promised; where a horizon is too long it is said of that revision alone.
  expect(reserveCaveats(totalForecast([one, none], "cover-end"))).not.toMatch(/so far ahead/);
  const short = [10, 30, 50, 70, 90, 110].map((age) => cell(age, "failed", 1));
  const watched = forecastGroup([...short, cell(120, "running", 500)], young, knownAtOnce, 0);
  expect(forecastCaveats(totalForecast([one, none, { ...watched, group: "C" }], 6))).toMatch(
    / nothing can be told of C so far ahead yet, and the failures of B carry no forecast/,
  );
  expect(total?.lower).toBeGreaterThan(2 * lower);
  expect(total?.upper).toBeLessThan(2 * upper);
  expect(totalForecast([none], 6)).toBeNull();
});

test("no sentence and no field of the file holds what is not a number", () => {
  const unknown = { kind: "unknown", currency: "EUR", of: "A", sentences: ["Nothing is assumed."] } as const;
  const groups = [
    priced({ group: "A", model: "M" }, forecastGroup(fleet, young, knownAtOnce, 0), unknown),
    priced({ group: "=B", model: "M" }, forecastGroup([cell(1, "failed", 1)], young, knownAtOnce, 0), unknown),
    priced({ group: "C", model: "M" }, forecastGroup([cell(5, "failed", 40)], young, knownAtOnce, 0), unknown),
  ];
  const texts = [
    forecastCsv(calendarDate("2026-11-25"), groups, []),
    reserveCsv("2026-11-25", groups, []),
    forecastSentence(totalForecast(groups, 12), 12),
    forecastCaveats(totalForecast(groups, 12)),
    reserveSentence(totalForecast(groups, "cover-end"), groups),
    forecastSentence(null, 3),
  ];
  for (const text of texts) expect(text).not.toMatch(/NaN|undefined|Infinity/);
  expect(texts[0]).toContain("'=B");
});

test("the files end with all that can be told, with limits that are no sum, and say in words what cannot be", () => {
  const unknown = { kind: "unknown", currency: "EUR", of: "A", sentences: ["Nothing is assumed."] } as const;
  const groups = ["A", "B"].map((group) =>
    priced({ group, model: "M" }, forecastGroup(fleet, young, knownAtOnce, 0), unknown),
  );
  const none = priced(
    { group: "C", model: "M" },
    forecastGroup([cell(1, "failed", 1)], young, knownAtOnce, 0),
    unknown,
  );
  const rowsOf = (csv: string) => Papa.parse<Record<string, string>>(csv.replace(/^\uFEFF/, ""), { header: true }).data;
  const all = [...groups, none];
  const foretold = rowsOf(forecastCsv(calendarDate("2026-11-25"), all, []));
  const inHalfAYear = foretold.filter((row) => row["months ahead"] === "6");
  const total = totalForecast(all, 6);
  expect(inHalfAYear.map(({ revision }) => revision)).toEqual(["A", "B", "C", "All that can be told"]);
  expect(Number(inHalfAYear[3]?.["lower 95 % limit"])).toBe(total?.lower);
  expect(Number(inHalfAYear[3]?.["upper 95 % limit"])).toBe(total?.upper);
  expect(Number(inHalfAYear[3]?.["packs under cover"])).toBe(2 * (groups[0]?.packsUnderCover ?? 0));
  expect(inHalfAYear[3]?.["cannot tell because"]).toMatch(/^Revision C is not in it/);
  expect(inHalfAYear[2]?.["cannot tell because"]).toBe(
    "too few failures: fewer than 5 carry no law of failing, and the others of its model lend it none",
  );
  const toTheEnd = rowsOf(reserveCsv("2026-11-25", all, []));
  const kept = totalForecast(all, "cover-end");
  const last = toTheEnd.find(({ revision }) => revision === "All that can be told");
  expect([last?.["lower 95 % limit"], last?.["upper 95 % limit"]].map(Number)).toEqual([kept?.lower, kept?.upper]);
});

test("the answer says how much of the time ahead lies at ages no pack has reached, and foretells nothing of it", () => {
  const total = {
    horizon: 6,
    expected: 40,
    unreported: 0,
    lower: 25,
    upper: 60,
    groups: 2,
    packsUnderCover: 900,
    failures: 30,
    lent: [],
    leftOut: [],
    packsLeftOut: 0,
  } as const;
  expect(forecastCaveats({ ...total, beyond: { packs: 37, packMonths: 52.2 } })).toMatch(
    / 37 packs will be older than what is settled of their revision for 52 pack-months of that time: nothing is foretold of these\./,
  );
  // The answer itself is the number with its limits; what is beside it stands beneath, or nothing does.
  expect(forecastSentence({ ...total, beyond: { packs: 37, packMonths: 52.2 } }, 6)).toBe(
    "In the next 6 months 40 confirmed failures within cover are to be expected, between 25 and 60 (95 % limits).",
  );
  expect(forecastCaveats({ ...total, beyond: { packs: 0, packMonths: 0 } })).toBe("");
  expect(forecastCaveats(null)).toBe("");
  expect(reserveCaveats(null)).toBe("");
});

test("no pack is followed beyond the oldest age seen, in the months ahead as in the reserve", () => {
  const cells: RunningCell[] = [
    { ageDays: 200, coverLeftDays: 400, packs: 2000 },
    { ageDays: 700, coverLeftDays: 400, packs: 100 },
  ];
  const { forecasts, reserve } = forecastGroup(fleet, cells, knownAtOnce, 0);
  const year = at(forecasts, 12);
  expect(year.beyond.packs).toBe(100);
  expect(year.beyond.packMonths).toBeCloseTo((100 * (700 + 12 * DAYS_PER_MONTH - 730)) / DAYS_PER_MONTH, 6);
  if (reserve.kind !== "reserve") throw new Error("a reserve is expected");
  expect(year.expected).toBeLessThanOrEqual(reserve.expected);
  // 2,000 packs have 400 days of cover ahead, all at ages seen; 100 have 400, of which 30 lie before the oldest age of 730 days.
  expect(reserve.seenPackMonths).toBeCloseTo((2000 * 400 + 100 * 30) / DAYS_PER_MONTH, 6);
  const group = { ...forecastGroup(fleet, cells, knownAtOnce, 0), group: "A", model: "M" };
  expect(sayHeld(group)).toBe("95 in 100");
  expect(reserveSentence(totalForecast([group], "cover-end"), [group])).toMatch(
    / This covers 26,382 of the 27,598 pack-months that packs sold to date still have under cover; nothing is foretold of the rest\.$/,
  );
  const oldOnly = cells.map((one) => ({ ...one, ageDays: 200 }));
  const whole = { ...forecastGroup(fleet, oldOnly, knownAtOnce, 0), group: "A" };
  expect(reserveSentence(totalForecast([whole], "cover-end"), [whole])).toMatch(
    / This covers all 27,598 pack-months that/,
  );
});
