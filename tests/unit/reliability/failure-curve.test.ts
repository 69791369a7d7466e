import { expect, test } from "vitest";
import { atRiskRow, failureCurve } from "@/lib/reliability/failure-curve";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { countLives, type Life } from "@/tests/support/lives";

function running(packs: number, days: number): Life[] {
  return Array.from({ length: packs }, (): Life => [0, days, 0]);
}

test("the curve starts at 0, steps at each failure and ends at the last age", () => {
  const points = failureCurve(kaplanMeier(countLives([...running(98, 400), [0, 100, 1], [0, 200, 1]])));
  expect(points.map((p) => [p.ageDays, Math.round(p.probability * 100)])).toEqual([
    [0, 0],
    [100, 1],
    [200, 2],
    [400, 2],
  ]);
});

test("the curve is grey until its standard error is at most half of it: of many packs, from the fourth failure on", () => {
  const failures = [100, 150, 200, 250, 300].map((age): Life => [0, age, 1]);
  const points = failureCurve(kaplanMeier(countLives([...running(9995, 400), ...failures])));
  // Of n packs without censoring the standard error over the share is sqrt((1 - d/n) / d): 1, 0.71, 0.58, 0.4999, 0.45.
  expect(points.map((p) => [p.ageDays, p.grey, p.doubt])).toEqual([
    [0, false, "few-failures"],
    [100, true, "few-failures"],
    [150, true, "few-failures"],
    [200, true, "few-failures"],
    [250, false, null],
    [300, false, null],
    [400, false, null],
  ]);
});

test("the step turns grey where fewer than 20 are at risk and back where more come under observation", () => {
  const late = Array.from({ length: 20 }, (): Life => [50, 300, 0]);
  const points = failureCurve(kaplanMeier(countLives([...running(19, 100), ...late])));
  expect(points.map((p) => [p.ageDays, p.grey])).toEqual([
    [0, true],
    [50, false],
    [300, false],
  ]);
});

test("an age that nobody was watched at leaves every later one without a share", () => {
  const early = Array.from({ length: 60 }, (_, i): Life => [0, 40, i < 8 ? 1 : 0]);
  const late = Array.from({ length: 60 }, (_, i): Life => [80, 200, i < 8 ? 1 : 0]);
  const points = failureCurve(kaplanMeier(countLives([...early, ...late])));
  expect(points.map((p) => [p.ageDays, p.doubt])).toEqual([
    [0, "few-failures"],
    [40, "nobody-watched-at-this-age"],
    [200, "nobody-watched-at-this-age"],
  ]);
});

test("before the first failure the band already has a width", () => {
  const [first] = failureCurve(kaplanMeier(countLives(running(50, 100))));
  expect(first?.upper).toBeCloseTo(1 - 0.025 ** (1 / 50), 12);
});

test("without a failure the band widens with age as fewer are at risk, and is not that of the oldest from the start", () => {
  const packs = Array.from({ length: 300 }, (_, i): Life => [0, 201 + i, 0]);
  const points = failureCurve(kaplanMeier(countLives(packs)));
  const upper = points.map((point) => point.upper);
  // 150 of the 300 are left at the end of the first step; of the oldest 20 the limit is 17 in 100.
  expect(upper[0]).toBeLessThanOrEqual(1 - 0.025 ** (1 / 150));
  expect(upper).toEqual(upper.toSorted((a, b) => a - b));
  expect(upper.at(-2)).toBeGreaterThan(0.1);
});

test("no exposure gives nothing to draw", () => {
  expect(failureCurve(kaplanMeier([]))).toEqual([]);
});

test("the row of numbers at risk counts who is watched at each age", () => {
  const curve = kaplanMeier(countLives([...running(5, 100), [0, 40, 1], [30, 100, 0]]));
  expect(atRiskRow(curve, [0, 30, 40, 41, 100, 101])).toEqual([6, 6, 7, 6, 6, 0]);
});
