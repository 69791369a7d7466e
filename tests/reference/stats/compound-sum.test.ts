import { expect, test } from "vitest";
import { type AmountKind, amountMoments } from "@/lib/stats/amount-lattice";
import { compoundSum, type LatticeDistribution, sumQuantile } from "@/lib/stats/compound-sum";
import { poissonDensity } from "@/lib/stats/poisson-density";
import { expectWithinRelative } from "@/tests/support/within-relative";

const poisson = (mean: number, most: number) =>
  Float64Array.from({ length: most + 1 }, (_, n) => poissonDensity(n, mean));

/** Negative binomial by its recursion: p(n + 1) = p(n) (size + n) / (n + 1) (1 - probability). */
function negativeBinomial(size: number, probability: number, most: number): Float64Array {
  const shares = new Float64Array(most + 1);
  for (let n = 0, share = probability ** size; n <= most; n++) {
    shares[n] = share;
    share *= ((size + n) / (n + 1)) * (1 - probability);
  }
  return shares;
}

function momentsOf(distribution: LatticeDistribution | null): { mean: number; variance: number } {
  if (distribution === null) throw new Error("a distribution is expected");
  const { step, shares } = distribution;
  const mean = shares.reduce((sum, share, k) => sum + share * k * step, 0);
  return { mean, variance: shares.reduce((sum, share, k) => sum + share * (k * step - mean) ** 2, 0) };
}

const twoKinds: AmountKind[] = [
  { share: 0.3, mean: 60, spread: 20 },
  { share: 0.7, mean: 900, spread: 250 },
];

test.each([
  ["Poisson", poisson(12, 90), 12, 12],
  // Size 3, probability 3/13: mean 10, variance 10 + 10^2 / 3.
  ["negative binomial", negativeBinomial(3, 3 / 13, 700), 10, 10 + 100 / 3],
])("a compound %s sum has the mean and the variance of the closed formulas", (_, counts, meanCount, countVariance) => {
  // E S = E N E X; Var S = E N Var X + Var N (E X)^2: Klugman, Panjer & Willmot, Loss Models (from memory: verify in section
  // 9.3). For a Poisson number that is E N E X^2.
  const { mean, variance } = amountMoments(twoKinds);
  expect([mean, variance]).toEqual([648, 0.3 * 400 + 0.7 * 62_500 + 0.3 * 588 ** 2 + 0.7 * 252 ** 2]);
  const found = momentsOf(compoundSum([{ counts, amounts: twoKinds }]));
  expectWithinRelative(found.mean, meanCount * mean, 1e-7, "mean");
  expectWithinRelative(found.variance, meanCount * variance + countVariance * mean ** 2, 1e-4, "variance");
});

test("fixed amounts give the probabilities of the recursion for a compound Poisson sum", () => {
  // g(0) = exp(-3); g(s) = 3/s * sum j f(j) g(s - j), amounts 1, 2, 3 with .5, .3, .2: Panjer, ASTIN Bulletin 12 (1981) 22.
  // Its first thirteen values by python3; sum to 5: 0.5953522076970306, to 0: 0.04978706836786394.
  const amounts = [1, 2, 3].map((mean, i) => ({ share: [0.5, 0.3, 0.2][i] ?? 0, mean, spread: 0 }));
  const found = compoundSum([{ counts: poisson(3, 60), amounts }]);
  if (found === null) throw new Error("a distribution is expected");
  const upTo = (amount: number) =>
    found.shares.reduce((sum, share, k) => sum + (k * found.step <= amount ? share : 0), 0);
  expect(upTo(0.5)).toBeCloseTo(0.04978706836786394, 10);
  expect(upTo(5.5)).toBeCloseTo(0.5953522076970306, 10);
});

test.each([
  ["Poisson", poisson(4, 60), [82.93104427310308, 1103.639303707325, 2858.875590046614]],
  ["negative binomial", negativeBinomial(3, 3 / 13, 400), [206.69019527920025, 2595.10571811783, 8085.452207474991]],
])("limits of a compound %s sum of gamma amounts are scipy's", (_, counts, expected) => {
  // scipy 1.10.1: the root in x of p(0) + sum over n of p(n) gamma.cdf(x, 2.25 n, scale=133.333) = level, amounts of mean
  // 300 and spread 200, pmf of stats.poisson(4), stats.nbinom(3, 3/13); levels 0.025, 0.5, 0.975.
  const found = compoundSum([{ counts, amounts: [{ share: 1, mean: 300, spread: 200 }] }]);
  for (const [i, level] of [0.025, 0.5, 0.975].entries()) {
    const off = Math.abs(sumQuantile(found, level) - (expected[i] ?? Number.NaN));
    expect(off, `level ${level}`).toBeLessThan(1.5 * (found?.step ?? 0));
  }
});

test("two parts add up, an error common to all amounts widens the limits, and certain nothing is nothing", () => {
  const part = { counts: poisson(6, 60), amounts: twoKinds };
  const both = compoundSum([part, part]);
  const one = compoundSum([{ ...part, counts: poisson(12, 90) }]);
  for (const level of [0.025, 0.5, 0.975]) {
    // The sum of two compound Poisson sums of equal amounts is one of twice the mean.
    expectWithinRelative(sumQuantile(both, level), sumQuantile(one, level), 0.003, `level ${level}`);
  }
  expect(sumQuantile(one, 0.975, 0.2)).toBeGreaterThan(sumQuantile(one, 0.975) * 1.05);
  expect(sumQuantile(one, 0.025, 0.2)).toBeLessThan(sumQuantile(one, 0.025) * 0.95);
  // With many amounts the common error is nearly all there is: its own quantile, exp(1.96 s - s^2 / 2), s^2 = ln 1.04.
  const many = compoundSum([{ counts: poisson(4000, 5000), amounts: [{ share: 1, mean: 1, spread: 0.1 }] }]);
  const s = Math.sqrt(Math.log(1.04));
  expectWithinRelative(sumQuantile(many, 0.975, 0.2), 4000 * Math.exp(1.959964 * s - (s * s) / 2), 0.005, "many");
  expect(compoundSum([{ counts: Float64Array.of(1), amounts: twoKinds }])).toBeNull();
  expect(sumQuantile(null, 0.975, 0.2)).toBe(0);
});
