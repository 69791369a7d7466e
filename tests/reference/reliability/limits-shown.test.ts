import { expect, test } from "vitest";
import {
  type CoverageTrial,
  correctedShare,
  coverageOf,
  rankedGroups,
  ratioAgainstOthers,
  returnsOfCustomers,
  shareFailed,
} from "@/tests/support/coverage-trials";
import { seededRandom } from "@/tests/support/seeded-random";

// Short versions of `tests/bench/limits-coverage.ts`, which found the figures of `lib/stats/coverage-statement.ts`. With 300
// fleets a share of 0.95 is met within 3 * sqrt(0.95 * 0.05 / 300) = 0.038 in all but 3 of 1,000 simulations.
const FLEETS = 300;
const ALLOWED = 0.038;

test.each<[string, CoverageTrial, number]>([
  ["the share failed at one age", shareFailed, 1],
  ["the same with late reports allowed for", correctedShare, 2],
  ["how many times as often a group fails", ratioAgainstOthers, 3],
  ["the mean number of returns of a customer", returnsOfCustomers, 4],
  ["the rates of ranked groups, over all of them", rankedGroups, 5],
])("95 %% limits of %s hold the truth about 95 times in 100", (_, trial, seed) => {
  const { share, given } = coverageOf(trial, FLEETS, seededRandom(seed));
  expect(given).toBe(FLEETS);
  expect(Math.abs(share - 0.95), `share held: ${share}`).toBeLessThan(ALLOWED);
});
