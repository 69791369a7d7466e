import { clopperPearsonLimits } from "./binomial-limits";

/** What limits of one kind did in made-up fleets of known truth. */
export interface MeasuredCoverage {
  readonly fleets: number;
  /** Fleets in which there were such limits at all. */
  readonly given: number;
  /** Of these, in which the limits held the truth; a fleet of many groups counts with the share of them held. */
  readonly held: number;
}

/** Every trial begins with this seed. */
export const COVERAGE_SEED = 11;

/**
 * What `npm run -s bench -- limits-coverage` found, which says itself whether it still comes out so and ends with 1 where not. The
 * sentences on the page (`coverage-statement.ts`) are printed from these figures; what each fleet is made of stands beside its trial
 * (`tests/support/coverage-trials.ts`).
 */
export const measuredCoverage = {
  shareFailed: { fleets: 4000, given: 4000, held: 3805 },
  shareOfFewFailures: { fleets: 4000, given: 4000, held: 3854 },
  correctedShare: { fleets: 2000, given: 2000, held: 1895 },
  youngCorrectedShare: { fleets: 1200, given: 764, held: 702 },
  youngShareAtKnownDelay: { fleets: 1200, given: 1189, held: 1125 },
  drawnBand: { fleets: 2000, given: 2000, held: 1894 },
  youngDrawnBand: { fleets: 1200, given: 1080, held: 996 },
  ratioAgainstOthers: { fleets: 1000, given: 1000, held: 957 },
  ratioOfFewFailures: { fleets: 2000, given: 2000, held: 1899 },
  returnsOfCustomers: { fleets: 4000, given: 4000, held: 3807 },
  rankedGroups: { fleets: 1000, given: 1000, held: 928.7 },
  shareOfFault: { fleets: 4000, given: 4000, held: 3808 },
  oneMonthOfSale: { fleets: 1000, given: 1000, held: 960 },
  allMonthsOfSale: { fleets: 1000, given: 1000, held: 957 },
  timesOfItsLikes: { fleets: 500, given: 500, held: 483 },
  assumedShape: { fleets: 4000, given: 4000, held: 3869 },
  partThatFails: { fleets: 500, given: 466, held: 441 },
  weibullShape: { fleets: 4000, given: 4000, held: 3788 },
  weibullLife: { fleets: 4000, given: 4000, held: 3797 },
  weibullLifeOfFive: { fleets: 4000, given: 3876, held: 3695 },
  weibullShapeOfFew: { fleets: 4000, given: 2476, held: 2317 },
  waldLife: { fleets: 4000, given: 4000, held: 3700 },
  waldLifeOfFive: { fleets: 4000, given: 3876, held: 3452 },
} as const satisfies Readonly<Record<string, MeasuredCoverage>>;

export type CoverageName = keyof typeof measuredCoverage;

/** Limits that theory promises to hold 95 times in 100, and the band that is asked of them. */
export const PROMISED_BAND = { lower: 0.935, upper: 0.965 };
export const promisedCoverage = [
  "shareFailed",
  "ratioAgainstOthers",
  "returnsOfCustomers",
  "shareOfFault",
  "weibullShape",
  "weibullLife",
  "weibullLifeOfFive",
] as const satisfies readonly CoverageName[];

/** "95.3 times in 100 (94.6 to 96.0, of 4,000 made-up fleets)", with exact limits. */
export function heldWords(name: CoverageName): string {
  const { given, held } = measuredCoverage[name];
  const { lower, upper } = clopperPearsonLimits(Math.round(held), given);
  const percent = (share: number) => (share * 100).toFixed(1);
  return `${percent(held / given)} times in 100 (${percent(lower)} to ${percent(upper)}, of ${given.toLocaleString("en-GB")} made-up fleets)`;
}
