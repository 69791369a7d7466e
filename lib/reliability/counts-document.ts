import { averageRunLength, cumulativeSumReference, upperCumulativeSum } from "@/lib/stats/cumulative-sum";
import { criticalRatio, sequentialRatio } from "@/lib/stats/maximised-sequential-ratio";
import { FALSE_ALARM_CHANCE } from "./early-signals";

/** Failures of one period and those that were to be expected in it. */
export interface PeriodCount {
  readonly count: number;
  readonly expected: number;
}

/** Counts watched period by period for a rise: by cumulative sum, and by sequential ratio with a chance of a false alarm. */
export interface CountsDocument {
  readonly cumulativeSum: {
    /** So many times as often as expected is what the sum is set to find. */
    readonly timesAsOften: number;
    /** Taken off each period for each failure expected in it, rounded to hundredths. */
    readonly reference: number;
    readonly interval: number;
    /** Mean number of periods of the mean expectation until a signal: alike, and so many times as often. */
    readonly periodsToFalseSignal: number;
    readonly periodsToSignal: number;
    readonly steps: readonly { readonly sum: number; readonly signals: boolean }[];
  };
  readonly sequentialRatio: {
    /** Evidence for a signal, so that chance alone gives one at any time with the chance stated. */
    readonly threshold: number;
    readonly falseAlarmChance: number;
    readonly steps: readonly {
      readonly count: number;
      readonly expected: number;
      readonly evidence: number;
      readonly signals: boolean;
    }[];
  };
}

/** Steps on which the sum runs; finer ones change no decision. */
const REFERENCE_STEPS = 100;

/**
 * Answers: since when do failures come more often than expected? Sums are of counts less the reference value of Lucas for the
 * expected number of the period. Domain: whole counts from 0, expected above 0, timesAsOften above 1, a whole interval above 0.
 */
export function countsDocument(
  periods: readonly PeriodCount[],
  timesAsOften: number,
  interval: number,
): CountsDocument {
  const total = periods.reduce((sum, { expected }) => sum + expected, 0);
  const mean = total / periods.length;
  const reference = cumulativeSumReference(1, timesAsOften);
  const rounded = (value: number) => Math.max(1, Math.round(value * REFERENCE_STEPS)) / REFERENCE_STEPS;
  const threshold = criticalRatio(FALSE_ALARM_CHANCE, total);
  let [count, expected] = [0, 0];
  return {
    cumulativeSum: {
      timesAsOften,
      reference,
      interval,
      periodsToFalseSignal: averageRunLength(mean, rounded(reference * mean), interval),
      periodsToSignal: averageRunLength(mean * timesAsOften, rounded(reference * mean), interval),
      steps: upperCumulativeSum(
        periods.map((period) => period.count),
        periods.map((period) => reference * period.expected),
        interval,
      ),
    },
    sequentialRatio: {
      threshold,
      falseAlarmChance: FALSE_ALARM_CHANCE,
      steps: periods.map((period) => {
        count += period.count;
        expected += period.expected;
        const evidence = sequentialRatio(count, expected);
        return { count, expected, evidence, signals: evidence >= threshold };
      }),
    },
  };
}
