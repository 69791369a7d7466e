/** What is known of how often 95 % limits hold the truth, so that a page can say where they hold less, or more, than they say. */
export interface CoverageStatement {
  readonly limits: string;
  readonly holds: "as-promised" | "at-least" | "about";
  readonly where: string;
  readonly elsewhere: string;
}

/**
 * Found by simulation with fixed seeds (short versions are tests, each with its size) and, for counts, by exact sums.
 * Of the pages' own limits: `npx tsx tests/bench/limits-coverage.ts 1200`, twice the standard error of a share about 0.012; the
 * part that can fail and times of likes from 500 fleets (0.02), of young fleets from 1200 of which 764 told anything (0.02), failures to come from `forecast-coverage` (1000 fleets).
 * Wald figures: 100 Weibull lives of shape 2 cut off where 5.4 had failed on average, 1444 fleets.
 */
export const coverageStatements: readonly CoverageStatement[] = [
  {
    limits: "Kaplan-Meier, log-log",
    holds: "as-promised",
    where: "with 20 units or more at risk and about 5 failures or more: 95 to 96 times in 100.",
    elsewhere:
      "With about one or two failures they hold more often than they say (97 in 100): too wide, not too narrow.",
  },
  {
    limits: "share failed with late reports allowed for",
    holds: "about",
    where: "with about 30 failures: 97 times in 100.",
    elsewhere:
      "They take the delay as known, and theory does not promise them: of 764 young fleets with about 60 delays of which they could be told they held 92 times in 100 (90 to 94), where with the true delay it was 95.",
  },
  {
    limits: "times as often as the others, likelihood ratio",
    holds: "as-promised",
    where: "with about 50 failures of the group and late reports allowed for: 95 times in 100.",
    elsewhere: "They suppose the same ratio at all ages; where curves cross it is an average.",
  },
  {
    limits: "returns of a customer",
    holds: "as-promised",
    where: "with about 60 returns: 96 times in 100.",
    elsewhere: "With fewer than about 20 they can be too short.",
  },
  {
    limits: "ranked groups, drawn towards the average",
    holds: "about",
    where: "over all of 40 groups with 7 failures each: 93 times in 100, not 95, since the spread is taken as known.",
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
    where: "with about 5 failures or more: 94.5 to 95.5 times in 100.",
    elsewhere: "With 2 to 4 failures the shape is held 94 times in 100, among fleets that allow a fit at all.",
  },
  {
    limits: "Weibull lives, estimate and standard error",
    holds: "about",
    where: "with 25 failures: 93 times in 100.",
    elsewhere: "With 5 failures only 88, with 3 to 4 only 84 times in 100: do not quote them there.",
  },
  {
    limits: "share failed of one fault",
    holds: "as-promised",
    where: "with about 25 failures, 15 of them of the fault: 95 to 96 times in 100.",
    elsewhere: "With fewer, as for the share failed: too wide rather than too narrow.",
  },
  {
    limits: "months of sale, times as often",
    holds: "about",
    where: "one month by itself, against five others: 95 to 96 times in 100; of all months at once: 94 to 96.",
    elsewhere:
      "They leave out what is not settled; the month that stands out most is chosen by its number, and looks worse than it is.",
  },
  {
    limits: "signals, times as often as its likes",
    holds: "at-least",
    where: "on one day, with about 50 failures of the likes: 95 to 98 times in 100.",
    elsewhere:
      "Read on the day of a signal they are chosen by it: nothing is promised then, and the number looks higher than it is.",
  },
  {
    limits: "Weibull with the shape of others",
    holds: "at-least",
    where: "with about 4 failures, were the shape the true one: 96 to 98 times in 100.",
    elsewhere:
      "Nothing is promised where the shape is another; that doubt is told by the scale at both ends of the shape.",
  },
  {
    limits: "part that can fail, profile likelihood",
    holds: "about",
    where:
      "where 15 in 100 of 400 packs could fail, with about 45 failures: 93 to 94 times in 100 where a part was told.",
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
