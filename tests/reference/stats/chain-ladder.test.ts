import { expect, test } from "vitest";
import { chainLadder } from "@/lib/stats/chain-ladder";
import { nowcastDelays } from "@/lib/stats/delay-nowcast";
import { numberIn, typedTable } from "@/tests/support/check-table";
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

test("each origin year's reserve and error and each variance agree with R", () => {
  const rows = typedTable(
    "statistics/ref/mack1993_taylor_ashe.csv",
    `
latest,ultimate,reserve,se
3901463,3901463,0,0
5339085,5433718.815,94633.81455,75535.04076
4909315,5378826.29,469511.29006,121698.56165
4588268,5297905.821,709637.82083,133548.85301
3873311,4858199.639,984888.63905,261406.44934
3691712,5111171.458,1419459.45766,411009.70388
3483130,5660770.62,2177640.62014,558316.85807
2864498,6784799.012,3920301.01195,875327.51191
1363294,5642266.263,4278972.26326,971257.80647
344014,4969824.694,4625810.69442,1363154.91173
`,
  );
  const factors = typedTable(
    "statistics/ref/mack1993_factors.csv",
    `
f,sigma2
3.490606548,160280.327481
1.747332642,37736.855048
1.457412836,41965.2130174
1.173851709,15182.902681
1.103823532,13731.323892
1.086269364,8185.77162
1.053874356,446.6165501
1.076555178,1147.3659684
1.017724725,446.6165501
`,
  );
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
