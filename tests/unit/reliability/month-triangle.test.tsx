import Papa from "papaparse";
import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { MonthGrid } from "@/app/_components/charts/month-grid";
import { monthTriangle, type SaleMonthLife } from "@/lib/reliability/month-triangle";
import {
  monthComparisonCsv,
  monthTriangleCsv,
  saleMonthSentence,
  settledSentence,
} from "@/lib/reliability/month-triangle-words";
import { reportingLag } from "@/lib/reliability/reporting-lag";
import { poissonLimits } from "@/lib/stats/poisson-limits";
import { calendarDate, daysBetween } from "@/lib/warranty/calendar";
import { seededRandom } from "@/tests/support/seeded-random";

/** Half a month of life, in days. */
const HALF = 30.4375 / 2;

function life(soldIn: string, exitDays: number, packs: number, failed = false): SaleMonthLife {
  return { soldIn, model: "M", entryDays: 0, exitDays, failed, goesOn: !failed, slackDays: 0, packs };
}

const lives = [
  life("2026-01", 4 * HALF, 20),
  life("2026-01", HALF, 4, true),
  life("2026-02", 3 * HALF, 40),
  life("2026-02", HALF, 1, true),
];
const dataDate = calendarDate("2026-04-15");

test("a cell's rate is its failures over the time watched in that month of life, with exact limits", () => {
  const { rows, months } = monthTriangle(lives, dataDate, 10, 0);
  expect(months).toBe(2);
  const [first, second] = rows[0]?.cells ?? [];
  expect(first).toMatchObject({ soldIn: "2026-01", month: 1, failures: 4, atRisk: 24 });
  // R 4.2.2: poisson.test(4, 22)$conf.int * 1000 gives 49.539 and 465.527.
  expect([first?.rate.rate, first?.rate.lower, first?.rate.upper].map((value) => value?.toFixed(3))).toEqual([
    "181.818",
    "49.539",
    "465.527",
  ]);
  expect(second).toMatchObject({ month: 2, failures: 0, atRisk: 20 });
  expect(second?.rate.exposure).toBeCloseTo(0.02, 12);
});

test("a cell is settled once its last pack has passed it and reports have had their time", () => {
  // Sold until 2026-01-31, one month later 2026-03-03 (31 days), ten days for reports 2026-03-13.
  const settled = (on: string) => {
    const youngest = daysBetween(calendarDate("2026-01-31"), calendarDate(on));
    const sold = [life("2026-01", youngest, 20), life("2026-01", HALF, 4, true)];
    return monthTriangle(sold, calendarDate(on), 10, 0).rows[0]?.cells.map(({ isComplete }) => isComplete);
  };
  expect(settled("2026-03-12")).toEqual([false, false]);
  expect(settled("2026-03-13")).toEqual([true, false]);
  expect(settled("2026-04-15")).toEqual([true, true, false]);
});

test("a pack that was here reaches a month later than the calendar says, and its month is not settled before", () => {
  // Of packs sold in January one lay here for 40 days: on 15 April it is 34 days old, when the youngest of the others is 74.
  const settled = (...more: SaleMonthLife[]) =>
    monthTriangle([life("2026-01", 74, 20), ...more], dataDate, 10, 0).rows[0]?.cells.map(
      ({ isComplete }) => isComplete,
    );
  expect(settled()).toEqual([true, true, false]);
  expect(settled(life("2026-01", 34, 1))).toEqual([false, false, false]);
  // One undecided for weeks may still be a failure of the month it was told in, and goes on beyond it if it is none.
  expect(settled({ ...life("2026-01", 20, 1), slackDays: 50 })).toEqual([false, false, false]);
  // One whose cover ended a week ago may have failed before without our knowing.
  expect(settled({ ...life("2026-01", 50, 1), goesOn: false, slackDays: 7 })).toEqual([true, false, false]);
  expect(settled({ ...life("2026-01", 50, 1), goesOn: false, slackDays: 10 })).toEqual([true, true, false]);
});

test("with several models each month of sale is held against the others of each model alone", () => {
  // Both months alike within each model; of one model 40 in 100 fail, of the other 10, and January has more of the first.
  const of = (model: string, soldIn: string, packs: number, failures: number) =>
    [life(soldIn, 2 * HALF, packs - failures), life(soldIn, 2 * HALF, failures, true)].map((one) => ({
      ...one,
      model,
    }));
  const lives = [
    ...[...of("A", "2026-01", 400, 160), ...of("B", "2026-01", 100, 10)],
    ...[...of("A", "2026-02", 100, 40), ...of("B", "2026-02", 400, 40)],
  ];
  const { rows, models } = monthTriangle(lives, dataDate, 10, 0);
  expect(models).toEqual(["A", "B"]);
  const [january] = rows;
  // Its 170 failures are what the others' rates foretell of it: 400 times 40 in 100 and 100 times 10.
  expect(january).toMatchObject({ failures: 170, settledFailures: 170 });
  expect(january?.expected).toBeCloseTo(170, 9);
  expect(january?.against?.times.ratio).toBeCloseTo(1, 6);
  expect(january?.cells.map(({ standsOut }) => standsOut)).toEqual([false]);
  // A single failure of one in twenty-five of the packs watched is no thick edge, of two models as of one.
  const single = ["A", "B"].flatMap((model) => [...of(model, "2026-01", 4, 0), ...of(model, "2026-02", 96, 0)]);
  for (const model of ["A", "B"]) {
    const failed = { ...life("2026-01", 2 * HALF, 1, true), model };
    const shown = monthTriangle([...single.filter(({ packs }) => packs > 0), failed], dataDate, 10, 0);
    expect(shown.rows[0]?.cells[0]?.standsOut).toBe(false);
  }
  // Put together it would be 170 of 500 against 80 of 500, more than twice as often.
  const together = monthTriangle(
    lives.map((one) => ({ ...one, model: "M" })),
    dataDate,
    10,
    0,
  );
  expect(together.rows[0]?.against?.times.lower).toBeGreaterThan(1.5);
  expect(together.rows[0]?.cells[0]?.standsOut).toBe(true);
});

test("rows are held against the others at equal age only", () => {
  const [january] = monthTriangle(lives, dataDate, 10, 0).rows;
  // February: 1 failure in 40.5 pack-months of the first month, none in 20 of the second.
  expect(january?.expected).toBeCloseTo((22 * 1) / 40.5, 12);
  // Four against one: by Clopper & Pearson (R 4.2.2, binom.test(4, 5)) the ratio may be 0.73, though 0.5 were to be expected.
  expect(january?.cells.map(({ standsOut }) => standsOut)).toEqual([false, false]);
  // A single failure of the others is no measure.
  expect(january?.against).toBeNull();
  const few = [life("2026-01", HALF, 1, true), life("2026-02", 3 * HALF, 40)];
  expect(saleMonthSentence(monthTriangle(few, dataDate, 10, 0))).toMatch(
    /^No month of sale can be held against the others yet: that takes 3 failures of the others/,
  );
  expect(saleMonthSentence(monthTriangle(lives, dataDate, 10, 0))).toMatch(
    /^No month of sale stands out: none that can be held against the others has more failures than they/,
  );
});

test("the failures of the others are chance as well: six against three in as many pack-months is no sign", () => {
  const two = (own: number, theirs: number) =>
    monthTriangle(
      [
        life("2026-01", 2 * HALF, 100 - own),
        life("2026-01", 2 * HALF, own, true),
        life("2026-02", 2 * HALF, 100 - theirs),
        life("2026-02", 2 * HALF, theirs, true),
      ],
      dataDate,
      10,
      0,
    );
  const [january] = two(6, 3).rows;
  // Binomial with 9 draws at 1/2: P(7 or more) = 46/512, P(6) = 84/512; mid-p twice (46 + 42)/512.
  expect(january?.against?.p).toBeCloseTo((2 * (46 + 42)) / 512, 12);
  expect(january?.against?.adjustedP).toBeCloseTo((4 * (46 + 42)) / 512, 12);
  expect(january?.against?.times.ratio).toBeCloseTo(2, 9);
  expect(saleMonthSentence(two(6, 3))).toMatch(/^No month of sale stands out: packs sold in 2026-01 have 6 failures/);
  expect(two(30, 6).rows.map((row) => row.cells.map(({ standsOut }) => standsOut))).toEqual([[true], [false]]);
  expect(saleMonthSentence(two(30, 6))).toMatch(
    /^Packs sold in 2026-01 have 30 failures at ages that others have reached too, the others 6 \(5\.0 times as often at equal age, 95 % limits for all 2 months at once [0-9.]+ to [0-9.]+; exact test, adjusted for them: p below 0\.001\)/,
  );
});

test("of fleets in which all months of sale fail alike few name one, and few of their cells have a thick edge", () => {
  const random = seededRandom(6);
  const fleets = 200;
  let [named, byTheOld, edges, cells] = [0, 0, 0, 0];
  for (let fleet = 0; fleet < fleets; fleet++) {
    const alike = Array.from({ length: 6 }, (_, i) => {
      const oldest = 30 * (6 - i);
      const ages = Array.from({ length: 40 }, () => Math.ceil(-Math.log(1 - random()) * 600));
      return ages.map((days) => life(`2026-0${i + 1}`, Math.min(oldest, days), 1, days <= oldest));
    }).flat();
    const { rows } = monthTriangle(alike, calendarDate("2026-11-01"), 10, 0);
    if (rows.some(({ against }) => against !== null && against.adjustedP < 0.05 && (against.times.ratio ?? 2) > 1))
      named += 1;
    // As if the rate of the others were known: a Poisson count with that mean.
    const known = rows.some(
      ({ settledFailures, expected }) => expected > 0 && poissonLimits(settledFailures, 1 - 0.05 / 6).lower > expected,
    );
    if (known) byTheOld += 1;
    const own = rows.flatMap((row) => row.cells);
    edges += own.filter(({ standsOut }) => standsOut).length;
    cells += own.length;
  }
  // Half of 5 in 100 on this side; 11 or fewer of 200 in 98.6 of 100 cases (binomial with 0.025).
  expect(named).toBeLessThanOrEqual(11);
  expect(byTheOld).toBeGreaterThan(named);
  expect(edges / cells).toBeLessThan(1 / 40);
});

test("a delay until failures are confirmed makes no old month of sale stand out", () => {
  const random = seededRandom(5);
  const today = 243;
  const date = (day: number) => new Date(Date.UTC(2025, 0, 1 + day)).toISOString().slice(0, 10);
  const fleets = 30;
  let [named, withLatest] = [0, 0];
  for (let fleet = 0; fleet < fleets; fleet++) {
    const alike = Array.from({ length: 4000 }, (_, i): SaleMonthLife => {
      const sold = Math.floor((i % 8) * 30.4 + 29 * random());
      const age = today - sold;
      const fails = Math.ceil(-Math.log(1 - random()) * 1520);
      // Half are confirmed after 30 days, all after 92.
      const lag = Math.min(92, Math.floor(-43 * Math.log(1 - random())));
      const slackDays = Math.max(0, Math.min(92, age - fails));
      const soldIn = date(sold).slice(0, 7);
      const failed = fails + lag <= age;
      return { ...life(soldIn, Math.min(age, fails), 1, failed), goesOn: fails > age, slackDays };
    });
    const isNamed = (settledDays: number) =>
      monthTriangle(alike, calendarDate(date(today)), 90, settledDays).rows.some(
        ({ against }) => against !== null && against.adjustedP < 0.05 && (against.times.ratio ?? 2) > 1,
      );
    if (isNamed(92)) named += 1;
    if (isNamed(0)) withLatest += 1;
  }
  // Half of 5 in 100 on this side; 3 or fewer of 30 in 99.4 of 100 cases (binomial with 0.025).
  expect(named).toBeLessThanOrEqual(3);
  expect(withLatest).toBeGreaterThan(6);
});

test("what is left out of the comparison of months is said, and the cells still show it", () => {
  // All packs run today; the failures of January were told 40 days ago, those of February 5 days ago.
  const told = [
    { ...life("2026-01", 3 * HALF, 2, true), slackDays: 40 },
    { ...life("2026-02", 2 * HALF, 6, true), slackDays: 5 },
    life("2026-01", 5 * HALF, 50),
    life("2026-02", 3 * HALF, 50),
  ];
  const triangle = monthTriangle(told, dataDate, 10, 30);
  expect(triangle.rows.map(({ failures, settledFailures }) => [failures, settledFailures])).toEqual([
    [2, 0],
    [6, 0],
  ]);
  expect(saleMonthSentence(triangle)).toMatch(
    /packs of both have reached, what was told in the last 30 days left out on both sides\.$/,
  );
  expect(settledSentence(reportingLag([]), triangle)).toMatch(/without what was told in the last 30 days/);
  expect(settledSentence(reportingLag([]), triangle)).toMatch(/and while a return of a pack .* is not decided\./);
});

test.each<[string, SaleMonthLife[]]>([
  ["no pack", []],
  ["one month of sale", [life("2026-01", 40, 3), life("2026-01", 10, 1, true)]],
  ["no failure", [life("2026-01", 40, 3), life("2026-02", 10, 3)]],
  ["a failure on the first day", [life("2026-01", 1, 3, true), life("2026-02", 10, 3)]],
])("with %s picture, sentence and file have no broken number", (_, some) => {
  const triangle = monthTriangle(some, dataDate, 0, 0);
  const shown = renderToStaticMarkup(
    <MonthGrid
      id="m"
      title="t"
      description={saleMonthSentence(triangle)}
      caption="c"
      triangle={triangle}
      hrefOf={({ soldIn, month }) => `/packs/${soldIn}/${month}`}
    />,
  );
  const about = { dataDate, of: "revision A" };
  const file = `${monthTriangleCsv(about, triangle.rows)}${monthComparisonCsv(about, triangle)}`;
  const drawn = triangle.rows.flatMap(({ cells }) => cells.map(({ soldIn, month }) => `/packs/${soldIn}/${month}`));
  for (const address of drawn) expect(shown).toContain(`href="${address}"`);
  expect(`${shown}${file}`).not.toMatch(/NaN|undefined|Infinity/);
});

test("of twenty months of sale that fail alike the highest is not told as standing out", () => {
  // 5 failures where 1.5 were to be expected: alone the lower limit is above 1; among twenty months such a one is no sign.
  const alike = Array.from({ length: 20 }, (_, i) => {
    const month = `${2024 + Math.floor(i / 12)}-${String((i % 12) + 1).padStart(2, "0")}`;
    const failures = i === 0 ? 5 : i % 2 === 0 ? 1 : 2;
    return [life(month, 30, 100 - failures), life(month, 10, failures, true)];
  }).flat();
  const triangle = monthTriangle(alike, calendarDate("2026-11-01"), 10, 0);
  expect(triangle.rows[0]?.against?.times.lower).toBeGreaterThan(1);
  expect(triangle.rows[0]?.against?.timesOfMany.lower).toBeLessThan(1);
  expect(saleMonthSentence(triangle)).toMatch(/^No month of sale stands out/);
  const [heads = [], first = []] = Papa.parse<string[]>(
    monthComparisonCsv({ dataDate, of: "revision A" }, triangle),
  ).data;
  const field = (name: string) => Number(first[heads.indexOf(name)]);
  const { against, expected } = triangle.rows[0] ?? {};
  expect(field("expected of those")).toBeCloseTo(expected ?? 0, 6);
  expect(field("times as often as the others at equal age")).toBeCloseTo(against?.times.ratio ?? 0, 6);
  expect(field("lower 95 % limit for all months at once")).toBeCloseTo(against?.timesOfMany.lower ?? 0, 6);
  expect(field("p adjusted for all months")).toBeCloseTo(against?.adjustedP ?? 0, 9);
});
