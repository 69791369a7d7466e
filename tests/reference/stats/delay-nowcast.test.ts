import { expect, test } from "vitest";
import { type DelayCell, nowcastDelays } from "@/lib/stats/delay-nowcast";
import { numberIn, typedTable } from "@/tests/support/check-table";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Reports of AIDS in England and Wales by quarter of diagnosis, July to September 1983 first, and by months of delay: 0, 2, 5 and so
// on to 41. Davison & Hinkley, Bootstrap Methods and their Application (1997), example 7.4; R package boot, `aids`.
const reports = [
  [2, 6, 0, 1, 1, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1],
  [2, 7, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0],
  [4, 4, 0, 1, 0, 2, 0, 0, 0, 0, 2, 1, 0, 0, 0],
  [0, 10, 0, 1, 1, 0, 0, 0, 1, 1, 1, 0, 0, 0, 0],
  [6, 17, 3, 1, 1, 0, 0, 0, 0, 0, 0, 1, 0, 0, 1],
  [5, 22, 1, 5, 2, 1, 0, 2, 1, 0, 0, 0, 0, 0, 0],
  [4, 23, 4, 5, 2, 1, 3, 0, 1, 2, 0, 0, 0, 0, 2],
  [11, 11, 6, 1, 1, 5, 0, 1, 1, 1, 1, 0, 0, 0, 1],
  [9, 22, 6, 2, 4, 3, 3, 4, 7, 1, 2, 0, 0, 0, 0],
  [2, 28, 8, 8, 5, 2, 2, 4, 3, 0, 1, 1, 0, 0, 1],
  [5, 26, 14, 6, 9, 2, 5, 5, 5, 1, 2, 0, 0, 0, 2],
  [7, 49, 17, 11, 4, 7, 5, 7, 3, 1, 2, 2, 0, 1, 4],
  [13, 37, 21, 9, 3, 5, 7, 3, 1, 3, 1, 0, 0, 0, 6],
  [12, 53, 16, 21, 2, 7, 0, 7, 0, 0, 0, 0, 0, 1, 1],
  [21, 44, 29, 11, 6, 4, 2, 2, 1, 0, 2, 0, 2, 2, 8],
  [17, 74, 13, 13, 3, 5, 3, 1, 2, 2, 0, 0, 0, 3, 5],
  [36, 58, 23, 14, 7, 4, 1, 2, 1, 3, 0, 0, 0, 3, 1],
  [28, 74, 23, 11, 8, 3, 3, 6, 2, 5, 4, 1, 1, 1, 3],
  [31, 80, 16, 9, 3, 2, 8, 3, 1, 4, 6, 2, 1, 2, 6],
  [26, 99, 27, 9, 8, 11, 3, 4, 6, 3, 5, 5, 1, 1, 3],
  [31, 95, 35, 13, 18, 4, 6, 4, 4, 3, 3, 2, 0, 3, 3],
  [36, 77, 20, 26, 11, 3, 8, 4, 8, 7, 1, 0, 0, 2, 2],
  [32, 92, 32, 10, 12, 19, 12, 4, 3, 2, 0, 2, 2, 0, 2],
  [15, 92, 14, 27, 22, 21, 12, 5, 3, 0, 3, 3, 0, 1, 1],
  [34, 104, 29, 31, 18, 8, 6, 7, 3, 8, 0, 2, 1, 2],
  [38, 101, 34, 18, 9, 15, 6, 1, 2, 2, 2, 3, 2],
  [31, 124, 47, 24, 11, 15, 8, 6, 5, 3, 3, 4],
  [32, 132, 36, 10, 9, 7, 6, 4, 4, 5, 0],
  [49, 107, 51, 17, 15, 8, 9, 2, 1, 1],
  [44, 153, 41, 16, 11, 6, 5, 7, 2],
  [41, 137, 29, 33, 7, 11, 6, 4],
  [56, 124, 39, 14, 12, 7, 10],
  [53, 175, 35, 17, 13, 11],
  [63, 135, 24, 23, 12],
  [71, 161, 48, 25],
  [95, 178, 39],
  [76, 181],
  [67],
];

test("AIDS in England and Wales: nowcast, delays and dispersion agree with the Poisson model in R", () => {
  // glm in R 4.2.2.
  const expected = typedTable(
    "statistics/ref/aids_ew_nowcast.csv",
    `
time,reported,expected_unreported,nowcast
1,12,0,12
2,12,0,12
3,14,0,14
4,15,0,15
5,30,0,30
6,39,0,39
7,47,0,47
8,40,0,40
9,63,0,63
10,65,0,65
11,82,0,82
12,120,0,120
13,109,0,109
14,120,0,120
15,134,0,134
16,141,0,141
17,153,0,153
18,173,0,173
19,174,0,174
20,211,0,211
21,224,0,224
22,205,0,205
23,224,0,224
24,219,0,219
25,253,5.211426351,258.2114264
26,233,6.665214814,239.6652148
27,281,8.993173494,289.9931735
28,245,10.077189568,255.0771896
29,260,13.880626213,273.8806262
30,285,19.940535869,304.9405359
31,268,23.972779834,291.9727798
32,262,30.454420431,292.4544204
33,304,46.593649509,350.5936495
34,257,53.122648926,310.1226489
35,305,84.522915097,389.5229151
36,312,128.970588418,440.9705884
37,257,183.052837344,440.0528373
38,67,369.562318298,436.5623183
`,
  );
  const shares = typedTable(
    "statistics/ref/aids_ew_delay_distribution.csv",
    `
delay,pmf,cdf
0,0.153471789002,0.153471789
2,0.430548988028,0.584020777
5,0.123509403428,0.7075301805
8,0.075478952456,0.7830091329
11,0.045695255141,0.8287043881
14,0.038396315069,0.8671007031
17,0.028765393254,0.8958660964
20,0.022027688625,0.917893785
23,0.016714659845,0.9346084448
26,0.014710255034,0.9493186999
29,0.011174868418,0.9604935683
32,0.00849475861,0.9689883269
35,0.003201150734,0.9721894776
38,0.007627734846,0.9798172125
41,0.020182787509,1
`,
  );
  expect([reports.length, reports[0]?.length]).toEqual([expected.length, shares.length]);
  const cells = reports.flatMap((row, period) => row.map((count, delay): DelayCell => ({ period, delay, count })));
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
