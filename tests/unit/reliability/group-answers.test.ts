import Papa from "papaparse";
import { expect, test } from "vitest";
import { delayTaken } from "@/lib/reliability/delay-csv";
import { delayPlaces } from "@/lib/reliability/delay-places";
import { type GroupFacts, groupAnswers } from "@/lib/reliability/group-answers";
import { groupCsv } from "@/lib/reliability/group-csv";
import { groupLags } from "@/lib/reliability/group-lags";
import { curveCsv, faultsCsv, lawCsv, lawPointsCsv, ofModels, repeatsCsv } from "@/lib/reliability/group-tables-csv";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { reportingLag } from "@/lib/reliability/reporting-lag";
import { calendarDate } from "@/lib/warranty/calendar";

function cell(group: string, stratum: string, exitDays: number, status: LifeCell["status"], packs: number): LifeCell {
  const detail = status === "failed" ? (exitDays % 2 === 0 ? "weak-cell" : "sense-wire") : null;
  return {
    line: "confirmed",
    group,
    stratum,
    dispatched: true,
    entryDays: 0,
    exitDays,
    status,
    detail,
    slackDays: 92,
    packs,
  };
}

// A dealer sells two models: the one fails four times as often. Another dealer sells both as well.
const dealer = (group: string) => [
  ...[60, 120, 181, 240, 301, 400].map((age) => cell(group, "M1", age, "failed", 4)),
  ...[90, 210, 305].map((age) => cell(group, "M2", age, "failed", 2)),
  cell(group, "M1", 600, "running", 300),
  cell(group, "M2", 600, "running", 300),
];
const lag = reportingLag([]);
const facts: GroupFacts = {
  ...{ by: "dealer", group: "A", lag, undated: [], shelfDelays: [] },
  table: { cells: [...dealer("A"), ...dealer("B")], excluded: [] },
  places: delayPlaces(
    lag,
    { dealer: groupLags("dealer", new Map(), lag), country: groupLags("country", new Map(), lag) },
    new Map(),
  ),
  customers: ["M1", "M2"].map((stratum) => ({
    ...{ stratum, from: 0, to: 600, places: 100 },
    returns: stratum === "M1" ? [100, 200] : [300],
  })),
};
const about = { dataDate: "2026-11-30", by: "dealer", group: "A" };
const settledOn = calendarDate("2026-11-30");

type Row = Record<string, string>;
const rowsOf = (csv: string) => Papa.parse<Row>(csv.replace(/^\uFEFF/, "").trim(), { header: true }).data;

/** Every table of a group as it leaves the house. */
function tables(of: GroupFacts): Record<string, Row[]> {
  const page = groupAnswers(of);
  const shares = ofModels(page, ({ line: { estimates } }) => ({ estimates, headline: null }));
  const delay = delayTaken("A", lag, null);
  return {
    shares: rowsOf(groupCsv({ ...about, shares, unknownStarts: null, delay })),
    curve: rowsOf(
      curveCsv(
        about,
        ofModels(page, (one) => one.line),
      ),
    ),
    faults: rowsOf(
      faultsCsv(
        about,
        ofModels(page, (one) => one.life.faults),
      ),
    ),
    law: rowsOf(
      lawCsv(
        about,
        ofModels(page, (one) => one.life),
        settledOn,
      ),
    ),
    points: rowsOf(
      lawPointsCsv(
        about,
        ofModels(page, (one) => one.life),
        settledOn,
      ),
    ),
    repeats: rowsOf(
      repeatsCsv(
        about,
        ofModels(page, (one) => one.repeats),
      ),
    ),
  };
}

test("each file of a group of several models has the rows of each model as they would be were there no other", () => {
  const both = tables(facts);
  for (const model of ["M1", "M2"]) {
    const ofIt = <C extends { readonly stratum: string }>(some: readonly C[]) =>
      some.filter(({ stratum }) => stratum === model);
    const alone = tables({
      ...facts,
      table: { cells: ofIt(facts.table.cells), excluded: [] },
      customers: ofIt(facts.customers),
    });
    for (const [name, rows] of Object.entries(alone)) {
      expect(rows.length, name).toBeGreaterThan(0);
      expect(rows.every((row) => row.model === "all together")).toBe(true);
      const its = both[name]?.filter((row) => row.model === model);
      expect(its, `${name} of ${model}`).toEqual(rows.map((row) => ({ ...row, model })));
    }
  }
});

test("the law's file tells the rate with its exact limits, of all packs and of each model, and failures add up", () => {
  const { law = [] } = tables(facts);
  expect(law.map(({ model }) => model)).toEqual(["all together", "M1", "M2"]);
  const counted = law.map((row) => Number(row["failures counted for the rate"]));
  expect(counted).toEqual([30, 24, 6]);
  // By hand, in pack-days over the 30.4375 of a month: 4 (60 + 120 + 181 + 240 + 301 + 400) + 300 x 600 for the first.
  const months = (4 * 1302 + 300 * 600) / 30.4375;
  expect(Number(law[1]?.["pack-months in use"])).toBeCloseTo(months, 6);
  expect(Number(law[1]?.["failures in 1,000 pack-months"])).toBeCloseTo((24 / months) * 1000, 9);
  // R 4.2.2: poisson.test(24)$conf.int gives 15.37725 and 35.71010.
  expect((Number(law[1]?.["lower 95 % limit of that rate"]) * months) / 1000).toBeCloseTo(15.37725, 4);
  expect((Number(law[1]?.["upper 95 % limit of that rate"]) * months) / 1000).toBeCloseTo(35.7101, 4);
});
