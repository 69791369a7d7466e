import type { CoverageName } from "@/lib/stats/coverage-measurements";
import * as shown from "@/tests/support/coverage-trials";
import * as weibull from "@/tests/support/weibull-coverage-trials";

/** Each kind of limits that the page tells of, by its name in the table of figures. */
export const coverageTrials: Readonly<Record<CoverageName, shown.CoverageTrial>> = {
  shareFailed: shown.shareFailed,
  shareOfFewFailures: shown.shareOfFewFailures,
  correctedShare: shown.correctedShare,
  youngCorrectedShare: shown.youngCorrectedShare,
  youngShareAtKnownDelay: shown.youngShareAtKnownDelay,
  drawnBand: shown.drawnBand,
  youngDrawnBand: shown.youngDrawnBand,
  ratioAgainstOthers: shown.ratioAgainstOthers,
  ratioOfFewFailures: shown.ratioOfFewFailures,
  returnsOfCustomers: shown.returnsOfCustomers,
  rankedGroups: shown.rankedGroups,
  shareOfFault: shown.shareOfFault,
  oneMonthOfSale: shown.oneMonthOfSale,
  allMonthsOfSale: shown.allMonthsOfSale,
  timesOfItsLikes: shown.timesOfItsLikes,
  assumedShape: shown.assumedShape,
  partThatFails: shown.partThatFails,
  weibullShape: weibull.weibullShape,
  weibullLife: weibull.weibullLifeOfTenth,
  weibullLifeOfFive: weibull.weibullLifeOfFive,
  weibullShapeOfFew: weibull.weibullShapeOfFew,
  waldLife: weibull.waldLife,
  waldLifeOfFive: weibull.waldLifeOfFive,
};
