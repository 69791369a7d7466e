import { heldWords } from "./coverage-measurements";

/** What is known of how often 95 % limits hold the truth, so that a page can say where they hold less, or more, than they say. */
export interface CoverageStatement {
  readonly limits: string;
  readonly holds: "as-promised" | "at-least" | "about";
  readonly where: string;
  readonly elsewhere: string;
}

/**
 * Found by simulation with fixed seeds and printed from its table of figures (`coverage-measurements.ts`; short versions are tests) and, for
 * counts, by exact sums (`coverage.test.ts`). Failures to come: `npm run -s bench -- forecast-coverage`, 1000 fleets.
 */
export const coverageStatements: readonly CoverageStatement[] = [
  {
    limits: "Kaplan-Meier, log-log",
    holds: "as-promised",
    where: `with 20 units or more at risk and about 30 failures: ${heldWords("shareFailed")}.`,
    elsewhere: `With about one or two failures they are too wide, not too narrow: ${heldWords("shareOfFewFailures")}.`,
  },
  {
    limits: "share failed with late reports allowed for",
    holds: "about",
    where: `with about 45 failures: ${heldWords("correctedShare")}.`,
    elsewhere: `They take the delay as known, and theory does not promise them: in young fleets with about 60 delays they held ${heldWords("youngCorrectedShare")}, with the true delay ${heldWords("youngShareAtKnownDelay")}.`,
  },
  {
    limits: "times as often as the others, mid-p",
    holds: "as-promised",
    where: `with about 50 failures of the group and late reports allowed for: ${heldWords("ratioAgainstOthers")}.`,
    elsewhere: `With few failures they hold 92 to 99 times in 100, by the number expected (exact sums); with about 3, late reports allowed for: ${heldWords("ratioOfFewFailures")}. They suppose the same ratio at all ages; where curves cross it is an average.`,
  },
  {
    limits: "returns of a customer",
    holds: "as-promised",
    where: `with about 60 returns: ${heldWords("returnsOfCustomers")}.`,
    elsewhere: "With fewer than about 20 they can be too short.",
  },
  {
    limits: "ranked groups, drawn towards the average",
    holds: "about",
    where: `over all of 40 groups with 7 failures each, the spread among them taken as known: ${heldWords("rankedGroups")}.`,
    elsewhere: "For one extreme group by itself nothing is promised.",
  },
  {
    limits: "rate or count, exact",
    holds: "at-least",
    where: "at any count: never less than 95 times in 100.",
    elsewhere: "With few events they hold 97 to 99 times in 100: too wide, not too narrow.",
  },
  {
    limits: "Weibull shape and lives, likelihood ratio",
    holds: "as-promised",
    where: `with about 24 failures: the shape ${heldWords("weibullShape")}, the age by which a tenth has failed ${heldWords("weibullLife")}; with about 5: ${heldWords("weibullLifeOfFive")}.`,
    elsewhere: `With 2 to 4 failures, where there is a fit at all, the shape is held ${heldWords("weibullShapeOfFew")}.`,
  },
  {
    limits: "Weibull lives, estimate and standard error",
    holds: "about",
    where: `with about 24 failures: ${heldWords("waldLife")}.`,
    elsewhere: `With about 5 failures only ${heldWords("waldLifeOfFive")}: do not quote them there.`,
  },
  {
    limits: "share failed of one fault",
    holds: "as-promised",
    where: `with about 30 failures, 18 of them of the fault: ${heldWords("shareOfFault")}.`,
    elsewhere: "With fewer, as for the share failed: too wide rather than too narrow.",
  },
  {
    limits: "months of sale, times as often",
    holds: "about",
    where: `one month by itself, against five others: ${heldWords("oneMonthOfSale")}; all months at once: ${heldWords("allMonthsOfSale")}.`,
    elsewhere:
      "They leave out what is not settled; the month that stands out most is chosen by its number, and looks worse than it is.",
  },
  {
    limits: "signals, times as often as its likes",
    holds: "at-least",
    where: `on one day, with about 80 failures of the likes: ${heldWords("timesOfItsLikes")}.`,
    elsewhere:
      "Read on the day of a signal they are chosen by it: nothing is promised then, and the number looks higher than it is.",
  },
  {
    limits: "Weibull with the shape of others",
    holds: "at-least",
    where: `with about 4 failures, were the shape the true one: ${heldWords("assumedShape")}.`,
    elsewhere:
      "Nothing is promised where the shape is another; that doubt is told by the scale at both ends of the shape.",
  },
  {
    limits: "part that can fail, profile likelihood",
    holds: "about",
    where: `where 15 in 100 of 400 packs could fail, with about 45 failures, in those in which a part was told: ${heldWords("partThatFails")}.`,
    elsewhere:
      "They are told only where a part is preferred (p below 0.01), which chooses: theory does not promise them.",
  },
  {
    limits: "failures to come and their cost",
    holds: "about",
    where:
      "the next 3 to 12 months: failures 97 to 98 times in 100, cost 94 to 96; until the end of cover: failures 94 to 96, cost 94 to 96.",
    elsewhere:
      "They suppose that packs go on failing by the law of their revision: of another law, or at ages not seen, nothing is promised.",
  },
];
