import { type CompareBy, type ComparisonChoice, compareByWords, stratumWords } from "./compare-by";
import { CALLED_BELOW, type GlobalTest } from "./compare-strata";
import { grouped, sayP } from "./plain-share";

/** Whether the groups shown differ at all, before any single one is looked at. */
export function globalSentence({ by, within }: ComparisonChoice, global: GlobalTest | null): string {
  const { many } = compareByWords[by];
  if (global === null) return `No two ${many} can be held against each other ${stratumWords[within]} yet.`;
  const { p, chiSquare, degreesOfFreedom, draws } = global;
  const test =
    draws === null
      ? `(log-rank test of all at once, chi-square ${chiSquare.toFixed(1)} on ${degreesOfFreedom} degrees of freedom, ${sayP(p)})`
      : `(test of all at once by ${grouped(draws)} draws, since of some too few failures are to be expected for the log-rank test: ${sayP(p)})`;
  return p < CALLED_BELOW
    ? `The ${many} do not all fail alike ${stratumWords[within]} ${test}.`
    : `All ${many} together give no sign that they fail differently ${stratumWords[within]} ${test}.`;
}

/** Why the ranking and the comparison have two numbers for one group. */
export function averageSentence(by: CompareBy): string {
  const { one, many } = compareByWords[by];
  return `The average holds the ${one} itself, so that all ${many} are measured alike: one with a large part of the failures stands nearer to 1 here than in the comparison above, which holds it against the others only.`;
}
