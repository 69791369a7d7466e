import { countReturns, type DecidedReturns } from "./cost-lines";
import type { DecidedAlike } from "./failure-cost";

/** From so many decided failures within cover on a revision is priced by its own remedies. Engineering default, no authority. */
export const FEWEST_OF_REVISION = 20;

/** What was decided on the packs of one revision, and what of its build says which remedies there are. */
export interface DecidedOfRevision {
  readonly revision: string;
  readonly model: string;
  readonly potted: boolean;
  readonly cellsRepairable: boolean;
  /** Returns within cover with a confirmed failure, and the others within cover. */
  readonly failures: readonly DecidedReturns[];
  readonly others: readonly DecidedReturns[];
  /** Returns decided that were told after the end of cover: goodwill and refusals, which cost something else. */
  readonly afterCover: number;
}

/**
 * Answers: whose decided returns say what a failure of this revision costs? Its own where there are enough; else those of all
 * revisions of its model that can be opened and repaired alike, its own among them. A potted pack is replaced where an open one is
 * repaired, so the one says nothing of the other.
 */
export function decidedAlike(asked: DecidedOfRevision, all: readonly DecidedOfRevision[]): DecidedAlike {
  const own = countReturns(asked.failures) >= FEWEST_OF_REVISION;
  const alike = own
    ? [asked]
    : all.filter(
        ({ model, potted, cellsRepairable }) =>
          model === asked.model && potted === asked.potted && cellsRepairable === asked.cellsRepairable,
      );
  return {
    of: alike.map(({ revision }) => revision).join(", "),
    failures: together(alike.flatMap(({ failures }) => failures)),
    others: together(alike.flatMap(({ others }) => others)),
    afterCover: alike.reduce((sum, { afterCover }) => sum + afterCover, 0),
  };
}

function together(returns: readonly DecidedReturns[]): DecidedReturns[] {
  const sums = new Map<string, DecidedReturns>();
  for (const one of returns) {
    const key = `${one.remedy} ${one.country}`;
    sums.set(key, { ...one, returns: one.returns + (sums.get(key)?.returns ?? 0) });
  }
  return [...sums].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, sum]) => sum);
}
