import { clopperPearsonLimits } from "@/lib/stats/binomial-limits";
import {
  COVERAGE_SEED,
  type CoverageName,
  measuredCoverage,
  PROMISED_BAND,
  promisedCoverage,
} from "@/lib/stats/coverage-measurements";
import { coverageTrials } from "@/tests/support/all-coverage-trials";
import { coverageOf } from "@/tests/support/coverage-trials";
import { seededRandom } from "@/tests/support/seeded-random";

/**
 * How often the 95 % limits on the pages of failure rates hold the truth, in fleets of known truth, with exact limits of that share: one
 * line a kind of limits, whether the figures the page tells still come out so, and whether what theory promises lies in its band.
 * `npm run -s bench -- limits-coverage [NAME ...]`, some five minutes of processor time for all.
 */
export async function* rows(names: readonly string[]): AsyncIterable<object> {
  for (const [name, trial] of Object.entries(coverageTrials) as [
    CoverageName,
    (typeof coverageTrials)[CoverageName],
  ][]) {
    if (names.length > 0 && !names.includes(name)) continue;
    const told = measuredCoverage[name];
    const { share, given } = coverageOf(trial, told.fleets, seededRandom(COVERAGE_SEED));
    const held = share * given;
    const isPromised = promisedCoverage.some((one) => one === name);
    const isWithin = share >= PROMISED_BAND.lower && share <= PROMISED_BAND.upper;
    const isAsTold = given === told.given && Math.abs(held - told.held) < HELD_ROUNDING;
    const { lower, upper } = clopperPearsonLimits(Math.round(held), given);
    const found = { fleets: told.fleets, given, held: Number(held.toFixed(1)), share, lower, upper };
    yield {
      limits: name,
      ...found,
      ...(isPromised && { promised: isWithin }),
      agree: isAsTold && (isWithin || !isPromised),
    };
  }
}

/** Shares of groups are told to a tenth. */
const HELD_ROUNDING = 0.06;
