import { expect, test } from "vitest";
import { rateRatio } from "@/lib/stats/rate-ratio";
import { numberIn, typedTable } from "@/tests/support/check-table";
import { expectWithinRelative } from "@/tests/support/within-relative";

test("11 in 800 against 21 in 3011 gives the exact limits of R's documented example", () => {
  // R 4.2.2, example of poisson.test (IARC data): ratio 1.971488, 95 % limits 0.8584264, 4.2772659.
  const result = rateRatio({ count: 11, exposure: 800 }, { count: 21, exposure: 3011 });
  expectWithinRelative(result.ratio ?? 0, 1.971488, 1e-6);
  expectWithinRelative(result.lower, 0.8584264, 1e-7);
  expectWithinRelative(result.upper ?? 0, 4.27726594, 1e-8);
});

test("ratio, limits and p-values of both families agree with R to nine digits", () => {
  // R 4.2.2: poisson.test for the central limits, uniroot on pbinom for the mid-p ones.
  const rows = typedTable(
    "statistics/ref/poisson_rate_ratio.csv",
    `
x1,t1,x2,t2,ratio,p_doubling,lo,hi,midp_doubling,midp_lo,midp_hi
11,800,21,3011,1.9714880952,0.11201731958,0.85842640339,4.277265944,0.08007683656,0.91660207586,4.0584042525
3,1200,12,1300,0.2708333333,0.05080360413,0.04904560224,1.003576377,0.03113492333,0.06128001587,0.8989134173
0,500,6,900,0,0.14116168646,0,1.52876015,0.07058084323,0,1.1655881504
41,28010,15,19017,1.8557586576,0.04766024675,1.00568406269,3.609300311,0.03545742177,1.04107524343,3.4494227605
20,100000,10,100000,2,0.09873714671,0.89350889038,4.78455244,0.07075554598,0.94482470718,4.4548479926
`,
  );
  expect(rows.length).toBeGreaterThanOrEqual(5);
  for (const row of rows) {
    const first = { count: numberIn(row, "x1"), exposure: numberIn(row, "t1") };
    const second = { count: numberIn(row, "x2"), exposure: numberIn(row, "t2") };
    const central = rateRatio(first, second);
    const midP = rateRatio(first, second, "mid-p");
    const name = `${row.x1} against ${row.x2}`;
    expectWithinRelative(central.ratio ?? -1, numberIn(row, "ratio"), 1e-9, `ratio of ${name}`);
    expectWithinRelative(central.p, numberIn(row, "p_doubling"), 1e-9, `p of ${name}`);
    expectWithinRelative(central.lower, numberIn(row, "lo"), 1e-9, `lower of ${name}`);
    expectWithinRelative(central.upper ?? -1, numberIn(row, "hi"), 1e-9, `upper of ${name}`);
    expectWithinRelative(midP.p, numberIn(row, "midp_doubling"), 1e-9, `mid-p of ${name}`);
    expectWithinRelative(midP.lower, numberIn(row, "midp_lo"), 1e-9, `mid-p lower of ${name}`);
    expectWithinRelative(midP.upper ?? -1, numberIn(row, "midp_hi"), 1e-9, `mid-p upper of ${name}`);
  }
});

test("3 in 1200 against 12 in 1300 is not called different by one half of the answer and equal by the other", () => {
  // poisson.test prints p = 0.037 beside limits of 0.049 to 1.0036: two families.
  const central = rateRatio({ count: 3, exposure: 1200 }, { count: 12, exposure: 1300 });
  expect(central.p).toBeGreaterThan(0.05);
  expect(central.upper).toBeGreaterThan(1);
  const midP = rateRatio({ count: 3, exposure: 1200 }, { count: 12, exposure: 1300 }, "mid-p");
  expect(midP.p).toBeLessThan(0.05);
  expect(midP.upper).toBeLessThan(1);
});

test("without events nothing is known, and one empty side leaves one limit open", () => {
  expect(rateRatio({ count: 0, exposure: 5 }, { count: 0, exposure: 9 })).toEqual({
    ratio: null,
    lower: 0,
    upper: null,
    p: 1,
  });
  const onlyFirst = rateRatio({ count: 4, exposure: 5 }, { count: 0, exposure: 9 });
  expect(onlyFirst).toMatchObject({ ratio: null, upper: null });
  expect(onlyFirst.lower).toBeGreaterThan(0);
  expect(() => rateRatio({ count: 1, exposure: 0 }, { count: 1, exposure: 1 })).toThrow(RangeError);
});
