import { expect, test } from "vitest";
import { averageRunLength, cumulativeSumReference, upperCumulativeSum } from "@/lib/stats/cumulative-sum";
import { criticalRatio, sequentialRatio, signalProbability } from "@/lib/stats/maximised-sequential-ratio";
import { numberIn, typedTable } from "@/tests/support/check-table";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Kulldorff et al., Sequential Analysis 30 (2011) 58-78, tables 1 (alpha 0.05) and 2 (power at twice the rate).
const published = [
  [1, 2.853937, 0.185],
  [2, 3.046977, 0.255],
  [5, 3.297183, 0.447],
  [10, 3.467952, 0.685],
  [20, 3.628123, 0.921],
] as const;

test("critical values and power agree with the published tables to all digits printed", () => {
  for (const [expectedAtEnd, value, power] of published) {
    const found = criticalRatio(0.05, expectedAtEnd);
    expect(Math.abs(found - value), `value at ${expectedAtEnd}`).toBeLessThanOrEqual(5.01e-7);
    expect(Math.abs(signalProbability(found, expectedAtEnd, 2) - power)).toBeLessThanOrEqual(5.01e-4);
  }
});

test("critical values at 5, 1 and 0.1 % agree with R up to 50 expected events", () => {
  // R 4.2.2: the same recursion in R with uniroot to 1e-10.
  const rows = typedTable(
    "statistics/ref/maxsprt_poisson_cv.csv",
    `
T,cv05,cv01,cv001,power_rr2,power_rr1_5
1,2.85393700326,4.67042840638,7.1726137882,0.185485116609,0.106973161072
2,3.04697746283,4.86222275957,7.34145289843,0.255317345473,0.129539449147
5,3.29718279729,5.09190683012,7.56931150182,0.446560086361,0.189660738272
10,3.46795158033,5.2605125908,7.72486322038,0.685063354302,0.279817637074
20,3.62812301587,5.41476958529,7.87757325159,0.920818597694,0.449668822488
50,3.81990269392,5.6059722387,8.06707152547,0.999556062796,0.802626708239
`,
  );
  expect(rows).toHaveLength(6);
  for (const row of rows) {
    const expectedAtEnd = numberIn(row, "T");
    expectWithinRelative(criticalRatio(0.05, expectedAtEnd), numberIn(row, "cv05"), 1e-8, `5 % at ${expectedAtEnd}`);
    expectWithinRelative(criticalRatio(0.01, expectedAtEnd), numberIn(row, "cv01"), 1e-8, `1 % at ${expectedAtEnd}`);
    expectWithinRelative(
      criticalRatio(0.001, expectedAtEnd),
      numberIn(row, "cv001"),
      1e-8,
      `0.1 % at ${expectedAtEnd}`,
    );
    const value = numberIn(row, "cv05");
    expectWithinRelative(signalProbability(value, expectedAtEnd, 2), numberIn(row, "power_rr2"), 1e-8);
    expectWithinRelative(signalProbability(value, expectedAtEnd, 1.5), numberIn(row, "power_rr1_5"), 1e-8);
  }
});

test("seven events where 2.5 were expected have the published ratio, and fewer than expected have none", () => {
  expectWithinRelative(sequentialRatio(7, 2.5), 2.70733592, 1e-8);
  expect(sequentialRatio(2, 2.5)).toBe(0);
  expect(sequentialRatio(0, 2.5)).toBe(0);
  expect(() => sequentialRatio(1, 0)).toThrow(RangeError);
  expect(() => criticalRatio(0, 5)).toThrow(RangeError);
  expect(() => criticalRatio(0.05, 5000)).toThrow(RangeError);
});

test("the reference value between rates of 1 and 2 is that of Lucas", () => {
  // Lucas, Technometrics 27 (1985) 129-144: (2 - 1) / ln 2, which is log2 of e; and 2 / ln 2 between 2 and 4.
  expectWithinRelative(cumulativeSumReference(1, 2), Math.LOG2E, 1e-14);
  expectWithinRelative(cumulativeSumReference(2, 4), 2.88539, 1e-6);
  expect(() => cumulativeSumReference(2, 1)).toThrow(RangeError);
});

test("average run lengths agree with a Markov chain in R, and signal at h, not above it", () => {
  // Documented call of R's surveillance package: arlCusum(h = 10, k = 3, theta = 2.4) gives 548.3622655.
  expectWithinRelative(averageRunLength(2.4, 3, 10), 548.3622655, 1e-9);
  const rows = typedTable(
    "statistics/ref/poisson_cusum_arl.csv",
    `
lam,k,h,ARL
1,1.5,4,121.95231614
1.5,1.5,4,18.1603347504
2,1.5,4,7.50550826714
3,1.5,4,3.36959106967
1,1.5,5,273.649972355
1.5,1.5,5,25.7307797202
2,1.5,5,9.43829287156
3,1.5,5,4.0290295893
1,1.5,6,602.267536789
1.5,1.5,6,34.6474362081
2,1.5,6,11.4056558618
3,1.5,6,4.6961424519
`,
  );
  expect(rows).toHaveLength(12);
  for (const row of rows) {
    const length = averageRunLength(numberIn(row, "lam"), numberIn(row, "k"), numberIn(row, "h"));
    expectWithinRelative(length, numberIn(row, "ARL"), 1e-9, `mean ${row.lam}, h ${row.h}`);
  }
});

test("a sum at exactly h signals, one below does not", () => {
  expect(upperCumulativeSum([3, 0, 4], 1.5, 4)).toEqual([
    { sum: 1.5, signals: false },
    { sum: 0, signals: false },
    { sum: 2.5, signals: false },
  ]);
  expect(upperCumulativeSum([3, 4], 1.5, 4).map(({ signals }) => signals)).toEqual([false, true]);
  expect(upperCumulativeSum([3, 4], [1, 2]).map(({ sum }) => sum)).toEqual([2, 4]);
});

test("NIST's twenty group means give the tabulated sums in both directions", () => {
  // NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.3: target 325, k 0.3175 (from memory); last upper sum 19.0350.
  const rows = typedTable(
    "statistics/ref/nist_cusum_6323.csv",
    `
x,Sh,Sl
324.925,0,0
324.675,0,0.00749999999999
324.725,0,0
324.35,0,0.3325
325.35,0.0325,0
325.225,0,0
324.125,0,0.5575
324.525,0,0.715
325.225,0,0.1725
324.6,0,0.255
324.625,0,0.3125
325.15,0,0
328.325,3.0075,0
327.25,4.94,0
327.825,7.4475,0
328.5,10.63,0
326.675,11.9875,0
327.775,14.445,0
326.875,16.0025,0
328.35,19.035,0
`,
  );
  const excess = rows.map((row) => numberIn(row, "x") - 325);
  const high = upperCumulativeSum(excess, 0.3175);
  const low = upperCumulativeSum(
    excess.map((x) => -x),
    0.3175,
  );
  expect(high).toHaveLength(20);
  for (const [i, row] of rows.entries()) {
    expect(Math.abs((high[i]?.sum ?? Number.NaN) - numberIn(row, "Sh"))).toBeLessThan(1e-9);
    expect(Math.abs((low[i]?.sum ?? Number.NaN) - numberIn(row, "Sl"))).toBeLessThan(1e-9);
  }
  expectWithinRelative(high.at(-1)?.sum ?? 0, 19.035, 1e-9);
});

test("a reference or interval off every grid is refused", () => {
  expect(() => averageRunLength(1, Math.sqrt(2), 4)).toThrow(RangeError);
  expect(() => averageRunLength(0, 1.5, 4)).toThrow(RangeError);
});
