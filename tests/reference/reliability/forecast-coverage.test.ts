import { expect, test } from "vitest";
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
test("95 % limits of failures and of cost hold what comes about as often as they say, in fleets of known truth", () => {
  const random = seededRandom(20_261_129);
  const fleet = { packs: 600, costedReturns: 25, horizon: 6 } as const;
  const { told, failures, cost } = coverageOf(Array.from({ length: 40 }, () => simulateForecast(random, fleet)));
  expect(told).toBe(40);
  // At a true level of 0.95 fewer than 34 of 40 come once in 200 times; at one of 0.75 they come nine times in ten.
  expect(Math.min(failures, cost)).toBeGreaterThanOrEqual(34 / 40);
});
