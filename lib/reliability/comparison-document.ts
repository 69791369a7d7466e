import { holm } from "@/lib/stats/adjusted-p";
import { empiricalBayesRates, poissonHomogeneity } from "@/lib/stats/empirical-bayes-rates";
import { hazardRatio } from "@/lib/stats/hazard-ratio";
import { countFailures, lifeExposure } from "@/lib/stats/life-counts";
import {
  compareWeibulls,
  type LikelihoodRatioTest,
  type WeibullComparisonRefusal,
} from "@/lib/stats/weibull-comparison";
import { compareGroups, type GroupComparison, type GroupLives } from "./group-comparison";
import { type OneAgeDocument, oneAgeDocument } from "./one-age-document";
import { rankingRefusal } from "./refusal-sentences";
import type { Refused } from "./weibull-document";

export interface ComparisonDocument extends Omit<GroupComparison, "groups"> {
  readonly groups: readonly (GroupComparison["groups"][number] & {
    /** Adjusted by Holm: for whoever can afford no single false accusation. */
    readonly holmP: number | null;
    /** Hazard of this group over that of all others, at equal ages; null where they share no failure age. */
    readonly hazardRatio: {
      readonly ratio: number | null;
      readonly lower: number;
      readonly upper: number | null;
    } | null;
  })[];
  /** Failures per unit of time at risk, highest shrunken rate first; compares whole lives, so only where ages are alike. */
  readonly ranking: readonly RankedGroup[] | Refused;
  /** Could all groups have one failure rate? Null for no failures. */
  readonly oneRate: { readonly chiSquare: number; readonly degreesOfFreedom: number; readonly p: number } | null;
  readonly atOneAge: OneAgeDocument | Refused;
  /** Only where Weibull fits were asked for too. */
  readonly weibull?: WeibullGroupsDocument | Refused;
}

/** Do the groups share a shape, a distribution? Likelihood-ratio tests of nested Weibull fits. */
export interface WeibullGroupsDocument {
  readonly commonShape: number;
  readonly scales: readonly { readonly group: string; readonly scale: number }[];
  readonly equalShape: LikelihoodRatioTest;
  readonly equalDistribution: LikelihoodRatioTest;
}

export interface RankedGroup {
  readonly group: string;
  readonly rate: number;
  readonly shrunkenRate: number;
  readonly lower: number;
  readonly upper: number;
}

/** The comparison of groups with effects and limits beside the tests, and a ranking that does not reward small groups. */
export function comparisonDocument(
  groups: readonly GroupLives[],
  asksForWeibull = false,
): ComparisonDocument | Refused {
  const comparison = compareGroups(groups);
  if ("refused" in comparison) return comparison;
  const strata = [groups.map(({ counts }) => counts)];
  const byHolm = holm(comparison.groups.map(({ p }) => p).filter((p) => p !== null)).values();
  const members = groups.flatMap(({ group, counts }) => {
    const exposure = lifeExposure(counts);
    const count = countFailures(counts);
    return exposure > 0 ? [{ group, count, exposure }] : [];
  });
  const homogeneity = poissonHomogeneity(members);
  return {
    ...comparison,
    groups: comparison.groups.map((group, i) => {
      const effect = hazardRatio(strata, i);
      return {
        ...group,
        holmP: group.p === null ? null : (byHolm.next().value ?? null),
        hazardRatio:
          effect.kind === "no-comparison" ? null : { ratio: effect.ratio, lower: effect.lower, upper: effect.upper },
      };
    }),
    ranking: ranked(members),
    oneRate: homogeneity && {
      chiSquare: homogeneity.chiSquare,
      degreesOfFreedom: homogeneity.degreesOfFreedom,
      p: homogeneity.p,
    },
    atOneAge: oneAgeDocument(groups),
    ...(asksForWeibull && { weibull: weibullGroups(groups) }),
  };
}

const weibullComparisonRefusals: Record<WeibullComparisonRefusal, string> = {
  "fewer-than-two-groups": "A comparison needs two groups or more.",
  "group-without-fit": "Some group has no Weibull distribution of its own.",
  "no-common-shape": "No shape serves all groups.",
};

function weibullGroups(groups: readonly GroupLives[]): WeibullGroupsDocument | Refused {
  const result = compareWeibulls(groups.map(({ counts }) => counts));
  if (result.kind === "refused") return { refused: weibullComparisonRefusals[result.reason] };
  const { commonShape, scales, equalShape, equalDistribution } = result;
  return {
    commonShape,
    scales: scales.map((scale, i) => ({ group: groups[i]?.group ?? "", scale })),
    equalShape,
    equalDistribution,
  };
}

function ranked(members: readonly { group: string; count: number; exposure: number }[]): RankedGroup[] | Refused {
  const fit = empiricalBayesRates(members);
  if (fit.kind === "refused") return { refused: rankingRefusal(fit.reason) };
  return fit.rates
    .map(({ raw, shrunken, lower, upper }, i) => {
      return { group: members[i]?.group ?? "", rate: raw, shrunkenRate: shrunken, lower, upper };
    })
    .sort((a, b) => b.shrunkenRate - a.shrunkenRate);
}
