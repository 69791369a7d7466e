import { type ActuarialStep, actuarialTable } from "@/lib/stats/actuarial-table";
import { fitIntervalWeibull, type IntervalLife } from "@/lib/stats/interval-censored-weibull";
import type { LifeCount } from "@/lib/stats/life-counts";
import { weibullRefusal } from "./refusal-sentences";
import type { Refused } from "./weibull-document";

/** What can be said where an age is known only to the interval it lies in: months in service, yearly looks. */
export interface GridDocument {
  readonly width: number;
  /** Units last seen running: at the ends of intervals, or spread over them, when half of them count in it. */
  readonly withdrawn: "at-end" | "spread";
  /** Share failed by the end of each interval, limits on the logit scale. */
  readonly lifeTable: readonly ActuarialStep[];
  readonly weibull:
    | {
        readonly shape: number;
        readonly scale: number;
        readonly logLikelihood: number;
        /** By likelihood ratio; null where the failures set none. */
        readonly shapeLimits: readonly [lower: number, upper: number] | null;
      }
    | Refused;
}

/** A grid finer than this has more intervals than any table is read for. Engineering default, no authority. */
const MOST_INTERVALS = 10_000;

/**
 * Answers: share failed and law of lives whose ages are known to intervals of one width only: (0, width], (width, 2 width] ...
 * Refused where units came under observation late, since the age at entry would be known to an interval as well.
 */
export function gridDocument(counts: readonly LifeCount[], width: number): GridDocument | Refused {
  const units = counts.reduce((sum, { entered }) => sum + entered, 0);
  if (units === 0) return { refused: "No unit was watched." };
  if (counts.some(({ age, entered }) => entered > 0 && age > 0))
    return {
      refused: "Some units were first seen at a later age: the ages on a grid must all be counted from first use.",
    };
  const intervalOf = (age: number) => Math.ceil(age / width - 1e-9);
  const last = intervalOf(counts.at(-1)?.age ?? 0);
  if (last > MOST_INTERVALS) return { refused: `The grid has more than ${MOST_INTERVALS} intervals.` };
  const intervals = Array.from({ length: last }, (_, i) => ({ to: (i + 1) * width, failed: 0, withdrawn: 0 }));
  for (const { age, failed, censored } of counts) {
    const interval = intervals[intervalOf(age) - 1];
    if (interval === undefined) continue;
    interval.failed += failed;
    interval.withdrawn += censored;
  }
  const isAtEnd = counts.every(({ age, censored }) => censored === 0 || Math.abs(age / width - intervalOf(age)) < 1e-9);
  const withdrawn = isAtEnd ? "at-end" : "spread";
  return {
    width,
    withdrawn,
    lifeTable: actuarialTable(units, intervals, withdrawn),
    weibull: gridWeibull(counts, width),
  };
}

function gridWeibull(counts: readonly LifeCount[], width: number): GridDocument["weibull"] {
  const lives = counts.flatMap(({ age, failed, censored }): IntervalLife[] => {
    const by = Math.ceil(age / width - 1e-9) * width;
    return [
      ...(failed > 0 ? [{ after: Math.max(0, by - width), by, count: failed }] : []),
      ...(censored > 0 ? [{ after: age, by: null, count: censored }] : []),
    ];
  });
  const fit = fitIntervalWeibull(lives);
  if (fit.kind === "refused")
    return {
      refused:
        fit.reason === "no-failures"
          ? weibullRefusal("no-failures")
          : "The likelihood has no maximum: all failures lie in one interval, or too few tell them apart.",
    };
  const { shape, scale, logLikelihood, shapeLimits } = fit;
  return { shape, scale, logLikelihood, shapeLimits: shapeLimits && [shapeLimits.lower, shapeLimits.upper] };
}
