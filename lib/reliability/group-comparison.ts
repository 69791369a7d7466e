import { benjaminiHochberg } from "@/lib/stats/benjamini-hochberg";
import { drawnHomogeneity, isSparse } from "@/lib/stats/drawn-homogeneity";
import type { DrawnP } from "@/lib/stats/drawn-p";
import { exactAgainstOthers } from "@/lib/stats/exact-against-others";
import type { LifeCount } from "@/lib/stats/life-counts";
import { logRank } from "@/lib/stats/log-rank";
import { countsAtSharedAges, riskSets } from "@/lib/stats/risk-sets";

export interface GroupLives {
  readonly group: string;
  readonly counts: readonly LifeCount[];
}

export interface GroupComparison {
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly p: number;
  /**
   * The same question answered by drawing, where less than five failures are to be expected of some group and p calls chance
   * a sign; null where p holds as it is.
   */
  readonly drawn: DrawnP | null;
  readonly groups: readonly {
    readonly group: string;
    readonly observed: number;
    /** Failures this group would have had, had all groups failed alike at equal ages. */
    readonly expected: number;
    /** Both counts at the ages only at which others were watched too: what p and the hazard ratio rest on. */
    readonly atSharedAges: { readonly observed: number; readonly expected: number };
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
  const strata = [[...riskSets(groups.map(({ counts }) => counts))]];
  const exact = exactAgainstOthers(strata, groups.length);
  const shared = countsAtSharedAges(strata, groups.length);
  const adjusted = benjaminiHochberg(exact.filter((p) => p !== null)).values();
  return {
    chiSquare: global.chiSquare,
    degreesOfFreedom: global.degreesOfFreedom,
    p: global.p,
    drawn: isSparse(shared) ? drawnHomogeneity(strata, groups.length) : null,
    groups: global.groups.map(({ observed, expected }, i) => {
      const p = exact[i] ?? null;
      const adjustedP = p === null ? null : (adjusted.next().value ?? null);
      return {
        group: groups[i]?.group ?? "",
        observed,
        expected,
        atSharedAges: shared[i] ?? { observed: 0, expected: 0 },
        p,
        adjustedP,
      };
    }),
  };
}
