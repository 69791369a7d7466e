import { countFailures } from "@/lib/stats/life-counts";
import { type FailureLaw, failureLaw } from "./failure-law";
import { cutBack, type HiddenDay, hiddenDays } from "./hidden-exposure";
import { lentLaw } from "./lent-law";
import { countCells, countCellsApart, type LifeCell, type Line } from "./life-cell";
import type { Reporting } from "./reporting";

/** So many packs of one group that run under cover, with the same age and the same time until the cover ends. */
export interface RunningCell {
  readonly ageDays: number;
  /** Null where no end of cover is known: the cover does not end it. */
  readonly coverLeftDays: number | null;
  readonly packs: number;
}

export type NoLaw = "nothing-running" | "too-few-failures" | "no-law";

/** All that the failures to come of one group are foretold from; plain numbers, so that it can be kept and used again. */
export interface CoverBasis {
  /** Failures the law rests on. */
  readonly failures: number;
  readonly law: FailureLaw | { readonly refused: NoLaw };
  readonly running: readonly RunningCell[];
  readonly hidden: readonly HiddenDay[];
}

/**
 * The law of a group (for all of its packs, or for a part where that is preferred) fitted to its lives cut
 * back by the longest lag that is waited for, so that young packs do not look good, with the packs it is to be applied to and
 * the days of which not everything is known. Of failures confirmed, or of first returns whatever came of them. Too few for a law
 * of their own are lent its shape by the likes.
 */
export function coverBasis(
  cells: readonly LifeCell[],
  running: readonly RunningCell[],
  reporting: Reporting,
  settledDays: number,
  line: Line = "confirmed",
  likes: readonly LifeCell[] = [],
): CoverBasis {
  const counts = countCells(cutBack(cells, settledDays), line);
  const fitted = failureLaw(counts);
  const isFew = "refused" in fitted && fitted.refused === "too-few-failures";
  const lent = isFew ? lentLaw(counts, countCellsApart(cutBack(likes, settledDays), line)) : null;
  const law = lent ?? ("refused" in fitted ? { refused: fitted.refused } : fitted);
  return {
    failures: countFailures(counts),
    law: packsRunning(running) === 0 ? { refused: "nothing-running" } : law,
    running,
    hidden: hiddenDays(cells, reporting, line),
  };
}

export function packsRunning(running: readonly RunningCell[]): number {
  return running.reduce((sum, { packs }) => sum + packs, 0);
}
