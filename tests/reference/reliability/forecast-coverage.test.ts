import { expect, test } from "vitest";
import { binomialAtLeast, binomialAtMost } from "@/lib/stats/binomial-tails";
import { coverageOf, simulateForecast } from "@/tests/support/forecast-simulation";
import { seededRandom } from "@/tests/support/seeded-random";

// `npm run -s bench -- forecast-coverage`, 1000 fleets each, seed 20261129: share of 95 % limits that held what came.
//   packs  horizon          failures  cost
//     150  12 months           0.970  0.959   (60 of the 1000 told nothing)
//     600  3 months            0.981  0.948
//     600  6 months            0.973  0.940
//     600  12 months           0.968  0.950
//    3000  the end of cover    0.956  0.945
// 4 x 600  the end of cover    0.943  0.963   the total over four revisions, each with a law of its own, all costs told from the
//                                             same assumptions; 400 fleets, so each share is known to about 0.02
// Counts are whole, so their limits hold more than they say where few are expected. Single costs were lognormal and their means
// known from 25 returns (8 in the first line), while the program takes them as gamma.
/** Five seconds on quiet cores; beside other suites it may take ten times as long. */
const MOST_MS = 180_000;

test(
  "95 % limits of failures and of cost hold what comes about as often as they say, in fleets of known truth",
  () => {
    const random = seededRandom(20_261_129);
    const fleet = { packs: 600, costedReturns: 25, horizon: 6 } as const;
    const { told, failures, cost } = coverageOf(Array.from({ length: 120 }, () => simulateForecast(random, fleet)));
    expect(told).toBe(120);
    // At a true level of 0.85 109 or more of 120 come in 4 of 100 runs, at one of 0.95 fewer in 2 of 100 (exact binomial tails).
    expect(binomialAtLeast(109, 120, 0.85)).toBeLessThan(0.05);
    expect(binomialAtMost(108, 120, 0.95)).toBeLessThan(0.02);
    expect(Math.min(failures, cost)).toBeGreaterThanOrEqual(109 / 120);
  },
  MOST_MS,
);
