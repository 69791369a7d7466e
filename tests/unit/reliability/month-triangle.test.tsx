import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { MonthGrid } from "@/app/_components/charts/month-grid";
import { monthTriangle, type SaleMonthLife } from "@/lib/reliability/month-triangle";
import { monthTriangleCsv, saleMonthSentence } from "@/lib/reliability/month-triangle-words";
import { calendarDate } from "@/lib/warranty/calendar";

/** Half a month of life, in days. */
const HALF = 30.4375 / 2;

function life(soldIn: string, exitDays: number, packs: number, failed = false): SaleMonthLife {
  return { soldIn, entryDays: 0, exitDays, failed, packs };
}

const lives = [
  life("2026-01", 4 * HALF, 20),
  life("2026-01", HALF, 4, true),
  life("2026-02", 3 * HALF, 40),
  life("2026-02", HALF, 1, true),
];
const dataDate = calendarDate("2026-04-15");

test("a cell's rate is its failures over the time watched in that month of life, with exact limits", () => {
  const { rows, months } = monthTriangle(lives, dataDate, 10);
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
  const settled = (on: string, row = 0) =>
    monthTriangle(lives, calendarDate(on), 10).rows[row]?.cells.map(({ isComplete }) => isComplete);
  expect(settled("2026-03-12")).toEqual([false, false]);
  expect(settled("2026-03-13")).toEqual([true, false]);
  expect(settled("2026-04-15")).toEqual([true, true]);
});

test("rows are held against the others at equal age only", () => {
  const [january] = monthTriangle(lives, dataDate, 10).rows;
  // February: 1 failure in 40.5 pack-months of the first month, none in 20 of the second.
  expect(january?.expected).toBeCloseTo((22 * 1) / 40.5, 12);
  expect(january?.cells.map(({ standsOut }) => standsOut)).toEqual([true, false]);
  expect(saleMonthSentence(monthTriangle(lives, dataDate, 10))).toMatch(
    /^Packs sold in 2026-01 have 4 failures, where 0\.5 were to be expected .* \(7\.4 times as many, 95 % limits for all 2 months at once 1\.6 to 21\)/,
  );
});

test.each<[string, SaleMonthLife[]]>([
  ["no pack", []],
  ["one month of sale", [life("2026-01", 40, 3), life("2026-01", 10, 1, true)]],
  ["no failure", [life("2026-01", 40, 3), life("2026-02", 10, 3)]],
  ["a failure on the first day", [life("2026-01", 1, 3, true), life("2026-02", 10, 3)]],
])("with %s picture, sentence and file have no broken number", (_, some) => {
  const triangle = monthTriangle(some, dataDate, 0);
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
  const file = monthTriangleCsv({ dataDate, of: "revision A" }, triangle.rows);
  const drawn = triangle.rows.flatMap(({ cells }) => cells.map(({ soldIn, month }) => `/packs/${soldIn}/${month}`));
  for (const address of drawn) expect(shown).toContain(`href="${address}"`);
  expect(`${shown}${file}`).not.toMatch(/NaN|undefined|Infinity/);
});

test("of twenty months of sale that fail alike the highest is not told as standing out", () => {
  // 5 failures where 1.5 were to be expected: alone the exact lower limit is 1.08; among twenty months such a one is no sign.
  const alike = Array.from({ length: 20 }, (_, i) => {
    const month = `${2024 + Math.floor(i / 12)}-${String((i % 12) + 1).padStart(2, "0")}`;
    const failures = i === 0 ? 5 : i % 2 === 0 ? 1 : 2;
    return [life(month, 30, 100 - failures), life(month, 10, failures, true)];
  }).flat();
  const triangle = monthTriangle(alike, calendarDate("2026-11-01"), 10);
  expect(triangle.rows[0]?.times?.lower).toBeGreaterThan(1);
  expect(triangle.rows[0]?.timesOfMany?.lower).toBeLessThan(1);
  expect(saleMonthSentence(triangle)).toMatch(/^No month of sale stands out/);
});
