import { type EmpiricalBayesRefusal, empiricalBayesRates } from "@/lib/stats/empirical-bayes-rates";
import type { Limits } from "@/lib/stats/survival-limits";
import type { GroupEffect } from "./compare-strata";

export interface RankedGroup extends Limits, Pick<GroupEffect, "comparedAges" | "holds"> {
  readonly group: string;
  /** All its failures; `observed` and `expected` are of the ages at which others were watched too. */
  readonly failures: number;
  readonly observed: number;
  readonly expected: number;
  /** Failures over those to be expected at equal ages, as it is. */
  readonly raw: number;
  /** The same drawn towards the average of all groups, with credible limits. */
  readonly shrunken: number;
}

export type ShrunkenRanking =
  | { readonly kind: "ranking"; readonly groups: readonly RankedGroup[] }
  | { readonly kind: "refused"; readonly reason: EmpiricalBayesRefusal };

/**
 * Answers: in which order should many small groups be looked at, when the extremes are mostly luck?
 *
 * Gamma-Poisson model on failures over those expected at equal ages, so that old and young groups can stand in one list:
 * (shape + observed) / (rate + expected), highest first, with 95 % credible limits. The average holds the group itself, so that
 * every group is measured by one yardstick: a group with most of the failures stands nearer to 1 here than against the others
 * only (`GroupEffect.ratio`), and whoever shows both has to say so (`averageSentence`). Refused where the groups differ by no
 * more than chance, or are fewer than three. The limits take the spread among groups as known.
 */
export function shrunkenRanking(effects: readonly GroupEffect[]): ShrunkenRanking {
  const members = effects.filter(({ expected, p }) => p !== null && expected > 0);
  const fit = empiricalBayesRates(members.map(({ observed, expected }) => ({ count: observed, exposure: expected })));
  if (fit.kind === "refused") return fit;
  const groups = members.map(({ group, observed, expected, alone, comparedAges, holds }, i): RankedGroup => {
    const rate = fit.rates[i];
    if (rate === undefined) throw new Error(`no rate of ${group}`);
    const { raw, shrunken, lower, upper } = rate;
    const counted = { group, failures: observed + alone, observed, comparedAges, holds };
    return { ...counted, expected, raw, shrunken, lower, upper };
  });
  return { kind: "ranking", groups: groups.toSorted((a, b) => b.shrunken - a.shrunken) };
}
