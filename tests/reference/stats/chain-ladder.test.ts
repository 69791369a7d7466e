import { expect, test } from "vitest";
import { chainLadder } from "@/lib/stats/chain-ladder";
import { type DelayCell, nowcastDelays } from "@/lib/stats/delay-nowcast";
import { numberIn, readCheckTable } from "@/tests/support/check-table";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Taylor & Ashe (1983), increments by origin and development year, as in Mack, ASTIN Bulletin 23 (1993) 213-225.
const increments = [
  [357848, 766940, 610542, 482940, 527326, 574398, 146342, 139950, 227229, 67948],
  [352118, 884021, 933894, 1183289, 445745, 320996, 527804, 266172, 425046],
  [290507, 1001799, 926219, 1016654, 750816, 146923, 495992, 280405],
  [310608, 1108250, 776189, 1562400, 272482, 352053, 206286],
  [443160, 693190, 991983, 769488, 504851, 470639],
  [396132, 937085, 847498, 805037, 705960],
  [440832, 847631, 1131398, 1063269],
  [359480, 1061648, 1443370],
  [376686, 986608],
  [344014],
];
const triangle = increments.map((row) => {
  let sum = 0;
  return row.map((value) => {
    sum += value;
    return sum;
  });
});

test("Mack's triangle gives his factors, outstanding total and standard error", () => {
  const ladder = chainLadder(triangle);
  const factors = [3.490607, 1.747333, 1.457413, 1.173852, 1.103824, 1.086269, 1.053874, 1.076555, 1.017725];
  for (const [k, factor] of factors.entries())
    expectWithinRelative(ladder.factors[k] ?? 0, factor, 5e-7, `factor ${k}`);
  expect(Math.round(ladder.outstanding)).toBe(18_680_856);
  expect(Math.round(ladder.standardError)).toBe(2_447_095);
});

test("each origin year's reserve and error and each variance agree with R", ({ skip }) => {
  const rows = readCheckTable("statistics/ref/mack1993_taylor_ashe.csv");
  const factors = readCheckTable("statistics/ref/mack1993_factors.csv");
  const data = readCheckTable("statistics/data/taylor_ashe_cumulative.csv");
  if (rows === null || factors === null || data === null) return skip("open data not present on this machine");
  expect(
    data.map((row) =>
      Object.values(row)
        .filter((cell) => cell !== "")
        .map(Number),
    ),
  ).toEqual(triangle);
  const ladder = chainLadder(triangle);
  for (const [i, row] of rows.entries()) {
    const ours = ladder.rows[i];
    expect(ours?.latest).toBe(numberIn(row, "latest"));
    expectWithinRelative(ours?.ultimate ?? 0, numberIn(row, "ultimate"), 1e-9, `ultimate ${i}`);
    expectWithinRelative((ours?.ultimate ?? 0) - (ours?.latest ?? 0), numberIn(row, "reserve"), 1e-8, `reserve ${i}`);
    expectWithinRelative(ours?.standardError ?? 0, numberIn(row, "se"), 1e-9, `error ${i}`);
  }
  for (const [k, row] of factors.entries()) {
    expectWithinRelative(ladder.factors[k] ?? 0, numberIn(row, "f"), 1e-9, `factor ${k}`);
    expectWithinRelative(ladder.variances[k] ?? 0, numberIn(row, "sigma2"), 1e-9, `variance ${k}`);
  }
});

test("AIDS in England and Wales: nowcast, delays and dispersion agree with the Poisson model in R", ({ skip }) => {
  // Davison & Hinkley, Bootstrap Methods and their Application (1997), example 7.4; R package boot, `aids`; glm in R 4.2.2.
  const data = readCheckTable("statistics/data/aids_reporting_delay_england_wales.csv");
  const expected = readCheckTable("statistics/ref/aids_ew_nowcast.csv");
  const shares = readCheckTable("statistics/ref/aids_ew_delay_distribution.csv");
  if (data === null || expected === null || shares === null) return skip("open data not present on this machine");
  const delays = shares.map((row) => numberIn(row, "delay"));
  const cells = data
    .filter((row) => row.dud === "0")
    .map(
      (row): DelayCell => ({
        period: numberIn(row, "time") - 1,
        delay: delays.indexOf(numberIn(row, "delay")),
        count: numberIn(row, "y"),
      }),
    );
  const { rows, delayShares, delayCumulative, dispersion } = nowcastDelays(cells);
  for (const [i, row] of expected.entries()) {
    expect(rows[i]?.reported).toBe(numberIn(row, "reported"));
    expectWithinRelative(rows[i]?.expectedUnreported ?? -1, numberIn(row, "expected_unreported"), 1e-7, `period ${i}`);
    expectWithinRelative(rows[i]?.nowcast ?? -1, numberIn(row, "nowcast"), 1e-8, `nowcast ${i}`);
  }
  for (const [k, row] of shares.entries()) {
    expectWithinRelative(delayShares[k] ?? 0, numberIn(row, "pmf"), 1e-7, `share ${k}`);
    expectWithinRelative(delayCumulative[k] ?? 0, numberIn(row, "cdf"), 1e-8, `up to ${k}`);
  }
  expect(rows.slice(-3).map(({ reported }) => reported)).toEqual([312, 257, 67]);
  expectWithinRelative(dispersion ?? 0, 1.784, 3e-4, "dispersion");
});

test("a nowcast of a full triangle is its chain ladder", () => {
  const counts = [[10, 6, 3, 1], [12, 9, 2], [8, 5], [11]];
  const cells = counts.flatMap((row, period) => row.map((count, delay) => ({ period, delay, count })));
  const ladder = chainLadder(counts.map((row) => row.map((_, k) => row.slice(0, k + 1).reduce((a, b) => a + b))));
  for (const [i, { nowcast }] of nowcastDelays(cells).rows.entries())
    expectWithinRelative(nowcast, ladder.rows[i]?.ultimate ?? 0, 1e-10, `period ${i}`);
});

test("what is no triangle and what is no cell is refused", () => {
  expect(() => chainLadder([[1, 2], [1]])).toThrow(RangeError);
  expect(() => chainLadder([[1, 2], [1, 2, 3], [1]])).toThrow(RangeError);
  expect(() => chainLadder([[0, 0], [0, 0], [0]])).toThrow(RangeError);
  expect(() => nowcastDelays([{ period: -1, delay: 0, count: 1 }])).toThrow(RangeError);
  const twice = [{ period: 0, delay: 0, count: 1 }];
  expect(() => nowcastDelays([...twice, ...twice])).toThrow(RangeError);
  expect(nowcastDelays([]).rows).toEqual([]);
});
