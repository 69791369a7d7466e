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
  /** Failures over those expected at equal ages, highest shrunken rate first: by time at risk old groups would stand above young ones. */
  readonly ranking: readonly RankedGroup[] | Refused;
  /** Could all groups have one failure rate per time at risk? Null for no failures; refused where groups were watched at other ages. */
  readonly oneRate:
    | { readonly chiSquare: number; readonly degreesOfFreedom: number; readonly p: number }
    | Refused
    | null;
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

/** Of the failures at ages at which others were watched too. */
export interface RankedGroup {
  readonly group: string;
  readonly observed: number;
  readonly expected: number;
  /** Failures for each one expected, as it is and drawn towards the average of all groups. */
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
    ranking: ranked(comparison),
    oneRate: oneRateOf(members, comparison),
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

function ranked({ groups }: GroupComparison): RankedGroup[] | Refused {
  const members = groups.flatMap(({ group, atSharedAges: { observed, expected } }) =>
    expected > 0 ? [{ group, count: observed, exposure: expected }] : [],
  );
  const fit = empiricalBayesRates(members);
  if (fit.kind === "refused") return { refused: rankingRefusal(fit.reason) };
  return members
    .flatMap(({ group, count: observed, exposure: expected }, i): RankedGroup[] => {
      const drawn = fit.rates[i];
      if (drawn === undefined) return [];
      const { raw: rate, shrunken: shrunkenRate, lower, upper } = drawn;
      return [{ group, observed, expected, rate, shrunkenRate, lower, upper }];
    })
    .sort((a, b) => b.shrunkenRate - a.shrunkenRate);
}

/**
 * By how much the failures to expect of a group by its time at risk may differ from those at equal ages before one rate for all lives
 * compares unlike ages. Engineering default, no authority.
 */
const MOST_BY_AGE = 0.1;

interface Member {
  readonly group: string;
  readonly count: number;
  readonly exposure: number;
}

function oneRateOf(members: readonly Member[], { groups }: GroupComparison): ComparisonDocument["oneRate"] {
  const homogeneity = poissonHomogeneity(members);
  if (homogeneity === null) return null;
  const sumOf = (part: (member: Member) => number) => members.reduce((sum, member) => sum + part(member), 0);
  const rate = sumOf(({ count }) => count) / sumOf(({ exposure }) => exposure);
  const isByAge = members.some(({ group, exposure }) => {
    const expected = groups.find((one) => one.group === group)?.expected ?? 0;
    return Math.abs(rate * exposure - expected) > MOST_BY_AGE * expected;
  });
  if (isByAge)
    return {
      refused:
        "The groups were watched at other ages, and failures per time at risk change with age: one rate would compare unlike with unlike.",
    };
  const { chiSquare, degreesOfFreedom, p } = homogeneity;
  return { chiSquare, degreesOfFreedom, p };
}
