import { expect, test } from "vitest";
import { empiricalBayesRates, poissonHomogeneity } from "@/lib/stats/empirical-bayes-rates";
import { numberIn, typedTable } from "@/tests/support/check-table";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Failures of ten pumps over thousands of hours: Gaver & O'Muircheartaigh, Technometrics 29 (1987) 1-15.
const counts = [5, 1, 5, 14, 3, 19, 1, 1, 4, 22];
const hours = [94.3, 15.7, 62.9, 126, 5.24, 31.4, 1.05, 1.05, 2.1, 10.5];
const pumps = counts.map((count, i) => ({ count, exposure: hours[i] ?? 0 }));

test("ten pumps give the gamma distribution of their rates and its likelihood", () => {
  // R 4.2.2: optim on the negative binomial likelihood, which stops at about 7 digits.
  const fit = empiricalBayesRates(pumps);
  if (fit.kind !== "fit") throw new Error("a fit is expected");
  expectWithinRelative(fit.shape, 0.8229648, 2e-6, "shape");
  expectWithinRelative(fit.rate, 1.26165271, 2e-6, "rate");
  expectWithinRelative(fit.logLikelihood, -32.2578363, 1e-9, "log likelihood");
});

test("each pump's shrunken rate and credible limits agree with R", () => {
  const rows = typedTable(
    "statistics/ref/pumps_gamma_poisson_eb.csv",
    `
raw,eb,eb_lo,eb_hi
0.05302226935,0.06093411568,0.02194151763,0.1194894823
0.06369426752,0.10747565892,0.01117742275,0.3101792457
0.07949125596,0.09075459492,0.03267945259,0.1779663075
0.11111111111,0.11647628713,0.06493295748,0.1828307833
0.57251908397,0.58799892494,0.1539968537,1.3073538471
0.6050955414,0.60691860819,0.36980672753,0.9018141579
0.95238095238,0.78859804368,0.08201386066,2.2759269288
0.95238095238,0.78859804368,0.08201386066,2.2759269288
1.90476190476,1.43470049528,0.45375497447,2.9701130146
2.09523809524,1.94045559525,1.22766322663,2.8137903714
`,
  );
  const fit = empiricalBayesRates(pumps);
  if (fit.kind !== "fit") throw new Error("a fit is expected");
  expect(rows).toHaveLength(10);
  for (const [i, row] of rows.entries()) {
    expectWithinRelative(fit.rates[i]?.raw ?? 0, numberIn(row, "raw"), 1e-9, `raw ${i}`);
    expectWithinRelative(fit.rates[i]?.shrunken ?? 0, numberIn(row, "eb"), 1e-6, `shrunken ${i}`);
    expectWithinRelative(fit.rates[i]?.lower ?? 0, numberIn(row, "eb_lo"), 2e-6, `lower ${i}`);
    expectWithinRelative(fit.rates[i]?.upper ?? 0, numberIn(row, "eb_hi"), 2e-6, `upper ${i}`);
  }
});

test("the pumps do not have one rate: both chi-squares agree with R", () => {
  const result = poissonHomogeneity(pumps);
  expectWithinRelative(result?.chiSquare ?? 0, 257.098678, 1e-8);
  expectWithinRelative(result?.likelihoodRatio ?? 0, 124.517231, 1e-8);
  expect(result?.degreesOfFreedom).toBe(9);
  expect(result?.p).toBeLessThan(1e-40);
});

test("members that differ by no more than chance are not ranked", () => {
  const alike = [9, 11, 10, 10, 12, 8].map((count) => ({ count, exposure: 100 }));
  expect(empiricalBayesRates(alike)).toEqual({ kind: "refused", reason: "no-spread-beyond-chance" });
  expect(poissonHomogeneity(alike)?.p).toBeGreaterThan(0.5);
});

test("too few members, no events and impossible counts are told apart", () => {
  expect(empiricalBayesRates(pumps.slice(0, 2))).toMatchObject({ reason: "fewer-than-three-members" });
  expect(empiricalBayesRates(pumps.map((p) => ({ ...p, count: 0 })))).toMatchObject({ reason: "no-events" });
  expect(
    poissonHomogeneity([
      { count: 0, exposure: 1 },
      { count: 0, exposure: 2 },
    ]),
  ).toBeNull();
  expect(() => empiricalBayesRates([{ count: -1, exposure: 1 }])).toThrow(RangeError);
  expect(() => poissonHomogeneity([{ count: 1, exposure: 0 }])).toThrow(RangeError);
});
