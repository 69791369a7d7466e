/** What is known of how often 95 % limits hold the truth, so that a page can say where they hold less, or more, than they say. */
export interface CoverageStatement {
  readonly limits: string;
  readonly holds: "as-promised" | "at-least" | "about";
  readonly where: string;
  readonly elsewhere: string;
}

/**
 * Found by simulation with fixed seeds (short versions are tests, each with its size) and, for counts, by exact sums.
 * Of the pages' own limits: `npx tsx tests/bench/limits-coverage.ts 1200`, twice the standard error of a share about 0.012.
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
    elsewhere: "They take the lag as known: with few returns behind it they can be too short.",
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
];
