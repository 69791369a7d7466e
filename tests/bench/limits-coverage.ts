import {
  allMonthsOfSale,
  assumedShape,
  correctedShare,
  coverageOf,
  oneMonthOfSale,
  partThatFails,
  rankedGroups,
  ratioAgainstOthers,
  returnsOfCustomers,
  shareFailed,
  shareOfFault,
  timesOfItsLikes,
  youngCorrectedShare,
  youngShareAtKnownDelay,
} from "@/tests/support/coverage-trials";
import { seededRandom } from "@/tests/support/seeded-random";

/**
 * How often the 95 % limits on the pages of failure rates hold the truth, in fleets of known truth. One JSON line a kind of
 * limits, with twice the standard error of the share. Run: npx tsx tests/bench/limits-coverage.ts [fleets]
 */
const fleets = Number(process.argv[2] ?? 4000);
const trials = {
  ...{ shareFailed, correctedShare, ratioAgainstOthers, returnsOfCustomers, rankedGroups, shareOfFault },
  ...{ timesOfItsLikes, oneMonthOfSale, allMonthsOfSale, assumedShape, partThatFails },
  ...{ youngCorrectedShare, youngShareAtKnownDelay },
};
for (const [limits, trial] of Object.entries(trials)) {
  const { share, given } = coverageOf(trial, fleets, seededRandom(11));
  const twice = 2 * Math.sqrt((share * (1 - share)) / given);
  console.log(JSON.stringify({ limits, fleets, given, share, twiceStandardError: twice }));
}
