export interface DrawnP {
  readonly p: number;
  /** Fleets drawn. */
  readonly draws: number;
}

/** With so many draws the smallest p is 0.001. */
const MOST_DRAWS = 999;
const FEWEST_DRAWS = 199;
/** So many draws as great as the statistic tell a p well enough. Besag & Clifford (1991) propose 10 to 20. */
const ENOUGH_AS_GREAT = 20;
/** Failures drawn in all, which bounds the time to well below a second. */
const MOST_FAILURES_DRAWN = 4_000_000;

/**
 * The share of fleets drawn alike whose statistic is at least that seen, the one seen counted among them. Drawing stops once 20
 * are as great (p is then 20 over the draws).
 *
 * @param failures drawn in each fleet. Source: Besag & Clifford, Biometrika 78 (1991) 301-304.
 */
export function drawnP(seen: number, failures: number, drawStatistic: () => number): DrawnP {
  const most = Math.min(MOST_DRAWS, Math.max(FEWEST_DRAWS, Math.floor(MOST_FAILURES_DRAWN / failures)));
  let asGreat = 0;
  for (let draws = 1; draws <= most; draws++) {
    if (drawStatistic() >= seen * (1 - 1e-9)) asGreat += 1;
    if (asGreat >= ENOUGH_AS_GREAT) return { p: asGreat / draws, draws };
  }
  return { p: (asGreat + 1) / (most + 1), draws: most };
}
