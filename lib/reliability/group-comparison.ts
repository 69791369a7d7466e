import { benjaminiHochberg } from "@/lib/stats/benjamini-hochberg";
import { exactAgainstOthers } from "@/lib/stats/exact-against-others";
import type { LifeCount } from "@/lib/stats/life-counts";
import { logRank } from "@/lib/stats/log-rank";
import { riskSets } from "@/lib/stats/risk-sets";

export interface GroupLives {
  readonly group: string;
  readonly counts: readonly LifeCount[];
}

export interface GroupComparison {
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly p: number;
  readonly groups: readonly {
    readonly group: string;
    readonly observed: number;
    /** Failures this group would have had, had all groups failed alike at equal ages. */
    readonly expected: number;
    /** Of this group against all others together, exact mid-p; null where it shares no failure age with them. */
    readonly p: number | null;
    /** The same, adjusted for the number of groups tested (Benjamini-Hochberg). */
    readonly adjustedP: number | null;
  }[];
}

/**
 * Answers: do the groups fail alike at equal ages, and if not, which of them stands out?
 *
 * One global log-rank test over all groups, then each group against all others together by its exact distribution, adjusted
 * by Benjamini-Hochberg: one test a group and not one a pair, so that a dozen revisions do not make 66 tests.
 */
export function compareGroups(groups: readonly GroupLives[]): GroupComparison | { readonly refused: string } {
  if (groups.length < 2) return { refused: "A comparison needs two groups or more." };
  const global = logRank(groups.map(({ counts }) => counts));
  if (global.kind === "no-comparison") {
    return { refused: "No failure happened at an age at which two groups were being watched." };
  }
  const exact = exactAgainstOthers([riskSets(groups.map(({ counts }) => counts))], groups.length);
  const adjusted = benjaminiHochberg(exact.filter((p) => p !== null)).values();
  return {
    chiSquare: global.chiSquare,
    degreesOfFreedom: global.degreesOfFreedom,
    p: global.p,
    groups: global.groups.map(({ observed, expected }, i) => {
      const p = exact[i] ?? null;
      const adjustedP = p === null ? null : (adjusted.next().value ?? null);
      return { group: groups[i]?.group ?? "", observed, expected, p, adjustedP };
    }),
  };
}
