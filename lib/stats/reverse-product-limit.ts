import { twoSidedNormalQuantile } from "./normal-quantile";
import { type Limits, logLogLimits } from "./survival-limits";

/** One observed lag, or several equal ones. */
export interface TruncatedLag {
  readonly lag: number;
  /** The longest lag that could have been seen: data date minus the date of the event. Never below `lag`. */
  readonly longest: number;
  /** How many; 1 where missing. */
  readonly count?: number;
}

/** How many lags these are, equal ones told apart. */
export function countLags(lags: readonly TruncatedLag[]): number {
  return lags.reduce((sum, { count = 1 }) => sum + count, 0);
}

export interface LagStep extends Limits {
  readonly lag: number;
  readonly count: number;
  /** Lags no longer than this one whose event was early enough for this one to have been seen. */
  readonly atRisk: number;
  /** Share of lags that are at most `lag`, among those up to `longestLag` of the distribution. */
  readonly share: number;
  readonly standardError: number;
}

export interface LagDistribution {
  readonly count: number;
  /** Longest lag seen. Nothing tells how many are longer: all shares are among lags up to this one. */
  readonly longestLag: number;
  /** Longest lag that could have been seen at all. */
  readonly longestObservable: number;
  /** One step per distinct lag, rising; the share of the last one is 1 by definition. Empty for no lags. */
  readonly steps: readonly LagStep[];
  /**
   * Longest lag, above the shortest one, at which all at risk had just this lag, or null. The share is 0 below it
   * whatever the shorter lags do: too few old events to tell. Use the distribution only above it.
   */
  readonly exhaustedAtLag: number | null;
  readonly confidence: number;
}

/**
 * Answers: how long does it take until an event is known, when late ones cannot have been seen yet?
 *
 * The plain share of lags counts young events, of which only the short lags have come in. Reverse product limit:
 * G(x) = product over w > x of (1 - d(w) / Y(w)), d(w) lags equal to w, Y(w) lags up to w among events at least w old:
 * Kaplan-Meier run backwards in time, with its Greenwood variance G^2 sum over w > x of d / (Y (Y - d)) and log-log
 * limits. Assumes that lags do not change with the date of the event; compare early and late events to check.
 *
 * Domain: 0 <= lag <= longest, counts whole from 1, else a RangeError.
 * Sources: Lagakos, Barraj & De Gruttola, Biometrika 75 (1988) 515-523; Klein & Moeschberger, Survival Analysis (2003),
 * section 5.3; Kalbfleisch & Lawless, JASA 84 (1989) 360-372.
 */
export function reverseProductLimit(lags: readonly TruncatedLag[], confidence = 0.95): LagDistribution {
  const z = twoSidedNormalQuantile(confidence);
  const byLag = countsBy(lags, "lag");
  const byLongest = countsBy(lags, "longest");
  const total = byLag.reduce((sum, [, count]) => sum + count, 0);
  const steps: LagStep[] = [];
  let exhaustedAtLag: number | null = null;
  let share = 1;
  let logShare = 0;
  let greenwoodSum = 0;
  // From the longest lag down: at risk at w are all but the lags above w and the events younger than w.
  let [longer, old] = [0, 0];
  let next = byLongest.length - 1;
  for (const [lag, count] of [...byLag].reverse()) {
    for (let entry = byLongest[next]; entry !== undefined && entry[0] >= lag; entry = byLongest[--next])
      old += entry[1];
    const atRisk = old - longer;
    const isCertain = longer === 0;
    const limits = isCertain
      ? { lower: 1, upper: 1 }
      : share > 0
        ? logLogLimits(logShare, greenwoodSum, z)
        : { lower: 0, upper: 1 };
    const standardError = share > 0 ? share * Math.sqrt(greenwoodSum) : 0;
    steps.push({ lag, count, atRisk, share, standardError, ...limits });
    if (count === atRisk && lag > (byLag[0]?.[0] ?? lag)) exhaustedAtLag ??= lag;
    share *= (atRisk - count) / atRisk;
    logShare += Math.log1p(-count / atRisk);
    greenwoodSum += count / (atRisk * (atRisk - count));
    longer += count;
  }
  return {
    count: total,
    longestLag: byLag.at(-1)?.[0] ?? 0,
    longestObservable: byLongest.at(-1)?.[0] ?? 0,
    steps: steps.reverse(),
    exhaustedAtLag,
    confidence,
  };
}

function countsBy(lags: readonly TruncatedLag[], key: "lag" | "longest"): [value: number, count: number][] {
  const counts = new Map<number, number>();
  for (const entry of lags) {
    const { lag, longest, count = 1 } = entry;
    if (!(lag >= 0 && lag <= longest && Number.isFinite(longest)))
      throw new RangeError(`a lag must lie between 0 and the longest that could be seen, got ${lag} of ${longest}`);
    if (!Number.isSafeInteger(count) || count < 1) throw new RangeError(`count must be whole from 1, got ${count}`);
    counts.set(entry[key], (counts.get(entry[key]) ?? 0) + count);
  }
  return [...counts].sort(([a], [b]) => a - b);
}

export interface LagShare extends Limits {
  readonly share: number;
  readonly standardError: number;
}

/**
 * Share of events known after `lag` (in the unit of the lags), among those known after `longestLag` at the latest.
 * 0 below the shortest lag, 1 from the longest one on; null for a distribution without lags.
 */
export function shareKnownAfter({ steps }: LagDistribution, lag: number): LagShare | null {
  const [first] = steps;
  if (first === undefined) return null;
  if (!(lag >= first.lag)) return { share: 0, standardError: 0, lower: 0, upper: 0 };
  let [low, high] = [0, steps.length];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((steps[middle]?.lag ?? Number.POSITIVE_INFINITY) <= lag) low = middle;
    else high = middle;
  }
  const { share, standardError, lower, upper } = steps[low] ?? first;
  return { share, standardError, lower, upper };
}

/** Shortest lag by which at least the share `level` is known, or null where the distribution is empty. */
export function lagQuantile({ steps }: LagDistribution, level: number): number | null {
  return steps.find((step) => step.share >= level)?.lag ?? null;
}
