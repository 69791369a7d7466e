import { expect, test } from "vitest";
import { coverageOf, simulateForecast } from "@/tests/support/forecast-simulation";
import { seededRandom } from "@/tests/support/seeded-random";

// FIGURES
test("95 % limits of failures and of cost hold what comes about as often as they say, in fleets of known truth", () => {
  const random = seededRandom(20_261_129);
  const fleet = { packs: 600, costedReturns: 25, horizon: 6 } as const;
  const { told, failures, cost } = coverageOf(Array.from({ length: 40 }, () => simulateForecast(random, fleet)));
  expect(told).toBe(40);
  // At a true level of 0.95 fewer than 34 of 40 come once in 200 times; at one of 0.75 they come nine times in ten.
  expect(Math.min(failures, cost)).toBeGreaterThanOrEqual(34 / 40);
});
