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

// Short versions, as long as a test may take, of `tests/bench/limits-coverage.ts`, which found the figures said in
// `lib/stats/coverage-statement.ts`. A share of 0.95 is met within three standard errors of the simulation in all but 3 of
// 1,000 of them, so a kind of limits that holds much less often than it says fails here.
const trials: readonly [string, CoverageTrial, number, number][] = [
  ["the share failed at one age", shareFailed, 400, 1],
  ["the same with late reports allowed for", correctedShare, 30, 2],
  ["how many times as often a group fails", ratioAgainstOthers, 50, 3],
  ["the mean number of returns of a customer", returnsOfCustomers, 400, 4],
  ["the rates of ranked groups, over all of them", rankedGroups, 100, 5],
];

for (const [what, trial, fleets, seed] of trials) {
  test(`limits of ${what} hold the truth about 95 times in 100`, () => {
    const { share, given } = coverageOf(trial, fleets, seededRandom(seed));
    expect(given).toBe(fleets);
    expect(Math.abs(share - 0.95), `share held: ${share}`).toBeLessThan(3 * Math.sqrt((0.95 * 0.05) / fleets));
  });
}
