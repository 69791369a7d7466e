import { expect, test } from "vitest";
import { comparisonDocument } from "@/lib/reliability/comparison-document";
import { countsDocument } from "@/lib/reliability/counts-document";
import { gridDocument } from "@/lib/reliability/grid-document";
import { oneAgeDocument } from "@/lib/reliability/one-age-document";
import { reportedDocument } from "@/lib/reliability/reported-document";
import { countLives, type Life } from "@/tests/support/lives";
import { publishedLives } from "@/tests/support/published-lives";

function times(count: number, age: number, status: 0 | 1): Life[] {
  return Array.from({ length: count }, (): Life => [0, age, status]);
}

test("heat exchangers looked at once a year have the published life table and interval-censored law", () => {
  // Meeker & Escobar (1998), chapter 3: F and limits as printed (from memory); shape and scale: R 4.2.2, survreg, type "interval".
  // Some ages inside the year, to show that only the interval counts.
  const lives = [...times(1, 0.3, 1), ...times(3, 1, 1), ...times(99, 1, 0), ...times(5, 1.7, 1), ...times(95, 2, 0)];
  const grid = gridDocument(countLives([...lives, ...times(2, 3, 1), ...times(95, 3, 0)]), 1);
  if ("refused" in grid || "refused" in grid.weibull) throw new Error("a document is expected");
  expect(grid.withdrawn).toBe("at-end");
  expect(grid.lifeTable.map(({ failedShare }) => failedShare.toFixed(8))).toEqual([
    "0.01333333",
    "0.03837563",
    "0.05820294",
  ]);
  expect(grid.weibull.shape).toBeCloseTo(1.345515028, 7);
  expect(grid.weibull.scale).toBeCloseTo(23.61992283, 5);
  expect(grid.weibull.logLikelihood).toBeCloseTo(-54.41470533, 7);
  expect(grid.weibull.shapeLimits?.[0]).toBeCloseTo(0.635831, 5);
});

test("a grid is refused for late entries, and says what has no law on it", () => {
  expect(gridDocument(countLives([[2, 5, 1]]), 1)).toMatchObject({ refused: expect.stringMatching(/first seen/) });
  expect(gridDocument([], 1)).toEqual({ refused: "No unit was watched." });
  const one = gridDocument(countLives([...times(3, 2, 1), ...times(4, 2, 0)]), 5);
  expect(one).toMatchObject({ withdrawn: "spread", weibull: { refused: expect.stringMatching(/one interval/) } });
  expect(JSON.stringify(one)).not.toMatch(/NaN|Infinity/);
});

test("shares are compared as shares only up to an age that all were watched to", () => {
  // Fisher, The Design of Experiments (1935): 3 of 4 against 1 of 4, doubled one-sided mid-p 0.257142857, of one family with the other comparisons.
  const tea = oneAgeDocument([
    { group: "A", counts: countLives([...times(3, 1, 1), ...times(1, 5, 0)]) },
    { group: "B", counts: countLives([...times(1, 2, 1), ...times(2, 5, 0), [0, 9, 1]]) },
  ]);
  if ("refused" in tea) throw new Error(tea.refused);
  expect(tea.age).toBe(5);
  expect(tea.groups.map(({ failed, units }) => [failed, units])).toEqual([
    [3, 4],
    [1, 4],
  ]);
  for (const { p } of tea.groups) expect(p).toBeCloseTo(0.257142857, 9);
  expect(oneAgeDocument([{ group: "A", counts: countLives([[3, 5, 1]]) }])).toHaveProperty("refused");
  expect(oneAgeDocument([{ group: "A", counts: countLives([[0, 5, 0]]) }])).toHaveProperty("refused");
});

test("with Weibull fits a comparison tells whether the groups share a shape", () => {
  // Freireich et al. (1963); R 4.2.2, survreg(~ treat + strata(treat)) against (~ treat) and (~ 1).
  const control = publishedLives("Gehan control");
  const treated = publishedLives("Gehan 6-MP");
  const arms = [
    { group: "6-MP", counts: countLives(treated) },
    { group: "control", counts: countLives(control) },
  ];
  const document = comparisonDocument(arms, true);
  if ("refused" in document || document.weibull === undefined || "refused" in document.weibull)
    throw new Error("a comparison is expected");
  expect(document.weibull.commonShape).toBeCloseTo(1.36575750159, 9);
  expect(document.weibull.equalShape.statistic).toBeCloseTo(0.001411031339956, 8);
  expect(comparisonDocument(arms)).not.toHaveProperty("weibull");
});

test("counts by period and delay are completed alike by nowcast and chain ladder", () => {
  // By hand: factors 33/22 and 17/15, so the last period comes to 14 * 1.5 * 17/15.
  const rows = [[10, 5, 2], [12, 6], [14]];
  const cells = rows.flatMap((row, period) => row.map((count, delay) => ({ period, delay, count })));
  const document = reportedDocument(cells);
  if ("refused" in document || "refused" in document.chainLadder) throw new Error("a document is expected");
  expect(document.chainLadder.factors.map((factor) => factor.toFixed(9))).toEqual(["1.500000000", "1.133333333"]);
  expect(document.chainLadder.rows[2]?.ultimate).toBeCloseTo(23.8, 12);
  expect(document.nowcast.rows[2]?.nowcast).toBeCloseTo(23.8, 9);
  expect(reportedDocument([...cells, { period: 0, delay: 0, count: 1 }])).toHaveProperty("refused");
  expect(reportedDocument([{ period: 20260101, delay: 0, count: 1 }])).toHaveProperty("refused");
  expect(reportedDocument([{ period: 0.5, delay: 0, count: 1 }])).toHaveProperty("refused");
  const gap = [0, 2].map((delay) => ({ period: 0, delay, count: 1 }));
  expect(reportedDocument(gap)).toMatchObject({
    chainLadder: { refused: expect.stringMatching(/lacks a count/) },
  });
  expect(reportedDocument([{ period: 0, delay: 0, count: 1 }])).toMatchObject({
    chainLadder: { refused: expect.stringMatching(/No chain ladder/) },
  });
});

test("periods or delays that are not counted from nought are refused by name, and no empty first one is invented", () => {
  const fromOne = [1, 2, 3].map((period) => ({ period, delay: 0, count: 4 }));
  expect(reportedDocument(fromOne)).toEqual({
    refused: "The first period of the file is 1: periods and delays are positions counted from 0.",
  });
  expect(reportedDocument([{ period: 0, delay: 1, count: 4 }])).toEqual({
    refused: "The first delay of the file is 1: periods and delays are positions counted from 0.",
  });
});

test("counts watched for a rise have the published evidence and threshold, and a sum that signals", () => {
  // Kulldorff et al. (2011): the ratio of 7 where 2.5 were expected, and table 1 for 5 expected in all.
  const { sequentialRatio, cumulativeSum } = countsDocument(
    [
      { count: 7, expected: 2.5 },
      { count: 0, expected: 2.5 },
    ],
    2,
    3,
  );
  expect(sequentialRatio.threshold).toBeCloseTo(3.297183, 6);
  expect(sequentialRatio.steps[0]?.evidence).toBeCloseTo(2.70733592, 8);
  expect(sequentialRatio.steps.some(({ signals }) => signals)).toBe(false);
  // Lucas (1985): 1 / ln 2 off for each one expected. 7 - 2.5 / ln 2 = 3.39.
  expect(cumulativeSum.steps[0]?.sum).toBeCloseTo(7 - 2.5 / Math.LN2, 12);
  expect(cumulativeSum.steps.map(({ signals }) => signals)).toEqual([true, false]);
  expect(cumulativeSum.periodsToFalseSignal).toBeGreaterThan(cumulativeSum.periodsToSignal);
});
