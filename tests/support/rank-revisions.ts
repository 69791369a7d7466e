import { compareStrata, type GroupEffect, withRatios } from "@/lib/reliability/compare-strata";
import { groupReports } from "@/lib/reliability/group-report";
import { type LifeTable, sumPacks } from "@/lib/reliability/life-cell";
import { reportingLag, reportingOf } from "@/lib/reliability/reporting-lag";
import { shrunkenRanking } from "@/lib/reliability/shrunken-ranking";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";

/**
 * The two revisions that look worst by returns over packs in use, and by the comparison of the manager's page: of those
 * with more failures than expected at equal ages the surest, the reporting lag estimated and allowed for.
 */
export function worstTwo(table: LifeTable, lags: readonly TruncatedLag[]) {
  const { groups } = compareStrata(table, reportingOf(reportingLag(lags)));
  const inUse = (group: string) => sumPacks(table.cells.filter((cell) => cell.group === group));
  const byRatio = groups.toSorted((a, b) => b.observed / inUse(b.group) - a.observed / inUse(a.group));
  return { naive: firstTwo(byRatio), equalAge: firstTwo(bySureness(groups)) };
}

function bySureness(groups: readonly GroupEffect[]): GroupEffect[] {
  return groups.filter(({ observed, expected }) => observed > expected).toSorted((a, b) => (a.p ?? 1) - (b.p ?? 1));
}

function firstTwo(some: readonly { readonly group: string }[]): string[] {
  return some.slice(0, 2).map(({ group }) => group);
}

/** What the worst two may be picked by, all at equal age with the lag estimated and allowed for. */
export const rankingRules = [
  "p",
  "drawn towards the average",
  "lower limit of that",
  "times as often",
  "lower limit of times",
  "observed over expected",
  "likelihood ratio",
  "share failed by six months",
  "lower limit of that share",
] as const;
export type RankingRule = (typeof rankingRules)[number];

/** The worst two by each rule, of all revisions and of those of which the share failed by six months can be told. */
export function worstTwoByRule(table: LifeTable, lags: readonly TruncatedLag[]) {
  const reporting = reportingOf(reportingLag(lags));
  const { groups } = withRatios(compareStrata(table, reporting), table, reporting);
  const ranking = shrunkenRanking(groups);
  const shrunken = new Map(ranking.kind === "ranking" ? ranking.groups.map((one) => [one.group, one]) : []);
  const names = groups.map(({ group }) => group);
  const byAge = new Map(
    groupReports("revision", names, table, reporting).map(({ group, headline }) => {
      const share = headline.find(({ months }) => months === 6);
      return [group, share?.kind === "estimate" ? share : null];
    }),
  );
  const score: Readonly<Record<RankingRule, (effect: GroupEffect) => number>> = {
    p: ({ observed, expected, p }) => (observed > expected ? -(p ?? 1) : NONE),
    "drawn towards the average": ({ group }) => shrunken.get(group)?.shrunken ?? NONE,
    "lower limit of that": ({ group }) => shrunken.get(group)?.lower ?? NONE,
    "times as often": ({ ratio }) => ratio?.ratio ?? NONE,
    "lower limit of times": ({ ratio }) => ratio?.lower ?? NONE,
    "observed over expected": ({ observed, expected }) => (expected > 0 ? observed / expected : NONE),
    "likelihood ratio": ({ observed, expected }) =>
      observed > expected && expected > 0 ? observed * Math.log(observed / expected) - (observed - expected) : NONE,
    "share failed by six months": ({ group }) => byAge.get(group)?.probability ?? NONE,
    "lower limit of that share": ({ group }) => byAge.get(group)?.lower ?? NONE,
  };
  const mature = groups.filter(({ group }) => byAge.get(group) != null);
  return rankingRules.map((rule) => {
    const worst = (some: readonly GroupEffect[]) => firstTwo(some.toSorted((a, b) => score[rule](b) - score[rule](a)));
    return { rule, ofAll: worst(groups), ofMature: worst(mature) };
  });
}

/** Below every score that a rule can give: what cannot be scored comes last. */
const NONE = -10;
