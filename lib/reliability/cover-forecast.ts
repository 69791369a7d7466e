import { countQuantile } from "@/lib/stats/binomial-mixture";
import { fitWeibull, type WeibullFit } from "@/lib/stats/weibull-fit";
import type { Reporting } from "./early-signals";
import { countDistribution } from "./failure-forecast";
import { cutBack, type HiddenDay, hiddenDays } from "./hidden-exposure";
import { countCells, type LifeCell } from "./life-cell";
import { daysAtMonths } from "./months-in-service";

/** Months ahead for which failures are foretold. Common practice, no source. */
export const FORECAST_MONTHS = [3, 6, 12] as const;
export type ForecastMonths = (typeof FORECAST_MONTHS)[number];

/** With fewer failures no law is fitted for a forecast. IEC 61649 (2008) for the method; number from memory. */
export const FEWEST_FOR_FORECAST = 5;
/** Where more of the expected failures lie at ages no pack has reached the fit would only be guessing. Engineering default, no authority. */
const MOST_BEYOND_OBSERVED = 0.5;
/** Packs are put in so many classes of age for the limits; the expected number itself is summed exactly. */
const AGE_CLASSES = 60;

/** So many packs of one group that run under cover, with the same age and the same time until the cover ends. */
export interface RunningCell {
  readonly ageDays: number;
  /** Null where no end of cover is known: the cover does not end it. */
  readonly coverLeftDays: number | null;
  readonly packs: number;
}

export type CoverForecastRefusal =
  | "nothing-running"
  | "too-few-failures"
  | "no-law"
  | "horizon-beyond-observed-ages"
  | "mostly-beyond-observed-ages"
  | "fit-too-uncertain";

export type CoverForecast =
  | {
      readonly kind: "forecast";
      readonly months: ForecastMonths;
      /** Failures to come within cover, and those that happened but have not reached us: both together. */
      readonly expected: number;
      /** Of these, already happened and still on their way to us. */
      readonly unreported: number;
      readonly lower: number;
      readonly upper: number;
      /** Share of the expected failures at ages older than any yet seen. */
      readonly beyondObserved: number;
      /** Probability of each number of failures, from 0. */
      readonly distribution: Float64Array;
    }
  | { readonly kind: "refused"; readonly months: ForecastMonths; readonly reason: CoverForecastRefusal };

export interface GroupForecast {
  readonly packsUnderCover: number;
  /** Failures the law rests on: those of the lives cut back by the reporting lag. */
  readonly failures: number;
  readonly forecasts: readonly CoverForecast[];
}

/**
 * Answers: how many confirmed failures are to be expected of the packs now in use within their cover, in the next 3, 6 and
 * 12 months, those included that have happened and not reached us yet?
 *
 * Expected = sum over packs of [F(min(age + horizon, age at the end of cover)) - F(age)] / [1 - F(age)], plus the hidden
 * exposure of the last days times the hazard. F is a Weibull distribution fitted to the lives cut back by the lag within
 * which 95 of 100 returns reach us, so that young packs do not look good. The 95 % limits hold chance and doubt about the
 * fit. Packs not yet sold and returns not yet decided are not in it. Ages in days.
 *
 * Sources: Meeker & Escobar, Statistical Methods for Reliability Data (1998), sections 12.5 to 12.7; Kalbfleisch, Lawless &
 * Robinson, Technometrics 33 (1991) 273 for what is on its way.
 */
export function forecastGroup(
  cells: readonly LifeCell[],
  running: readonly RunningCell[],
  reporting: Reporting,
  lagMostDays: number,
): GroupForecast {
  const fit = fitWeibull(countCells(cutBack(cells, lagMostDays), "confirmed"));
  const failures = fit.kind === "fit" ? fit.failures : 0;
  const hidden = hiddenDays(cells, reporting);
  return {
    packsUnderCover: running.reduce((sum, { packs }) => sum + packs, 0),
    failures,
    forecasts: FORECAST_MONTHS.map((months) => forecastFor(months, fit, running, hidden)),
  };
}

function forecastFor(
  months: ForecastMonths,
  fit: ReturnType<typeof fitWeibull>,
  running: readonly RunningCell[],
  hidden: readonly HiddenDay[],
): CoverForecast {
  const refused = (reason: CoverForecastRefusal): CoverForecast => ({ kind: "refused", months, reason });
  const packs = running.reduce((sum, cell) => sum + cell.packs, 0);
  if (packs === 0) return refused("nothing-running");
  if (fit.kind === "refused") {
    const isFew = fit.reason === "no-failures" || fit.reason === "one-failure";
    return refused(isFew ? "too-few-failures" : "no-law");
  }
  if (fit.failures < FEWEST_FOR_FORECAST) return refused("too-few-failures");
  const horizon = daysAtMonths(months);
  const { largestAge } = fit.likelihood;
  if (horizon > largestAge) return refused("horizon-beyond-observed-ages");

  const spans = running.map(({ ageDays, coverLeftDays, packs: units }) => ({
    from: ageDays,
    to: ageDays + Math.max(0, Math.min(horizon, coverLeftDays ?? horizon)),
    units,
  }));
  const unreported = hiddenSums(hidden, fit.shape, fit.scale).sum;
  const toCome = spanSums(spans, fit.shape, fit.scale).sum;
  const within = spanSums(spans, fit.shape, fit.scale, largestAge).sum;
  const expected = toCome + unreported;
  const beyondObserved = expected > 0 ? (toCome - within) / expected : 0;
  if (beyondObserved > MOST_BEYOND_OBSERVED) return refused("mostly-beyond-observed-ages");
  const spanClasses = classesOf(spans, largestAge);
  const hiddenClasses = classesOf(
    hidden.map(({ ageDays, packs: units }) => ({ from: ageDays - 1, to: ageDays, units })),
    largestAge,
  ).map(({ to, units }) => ({ ageDays: to, packs: units }));
  const distribution = expected > 0 ? distributionOf(fit, packs, spanClasses, hiddenClasses) : Float64Array.of(1);
  if (distribution === null) return refused("fit-too-uncertain");
  const [lower, upper] = [countQuantile(distribution, 0.025), countQuantile(distribution, 0.975)];
  return { kind: "forecast", months, expected, unreported, lower, upper, beyondObserved, distribution };
}

interface Span {
  readonly from: number;
  readonly to: number;
  readonly units: number;
}

function distributionOf(fit: WeibullFit, packs: number, spans: readonly Span[], hidden: readonly HiddenDay[]) {
  return countDistribution(fit, packs, (shape, scale) => {
    const coming = spanSums(spans, shape, scale);
    const known = hiddenSums(hidden, shape, scale);
    return { sum: Math.min(packs, coming.sum + known.sum), sumOfSquares: coming.sumOfSquares + known.sumOfSquares };
  });
}

/** Spans by class of age and of length, each at the means of its packs. */
function classesOf(spans: readonly Span[], largestAge: number): Span[] {
  const width = Math.max(1, largestAge / AGE_CLASSES);
  const classes = new Map<string, { from: number; to: number; units: number }>();
  for (const { from, to, units } of spans) {
    const key = `${Math.floor(from / width)} ${Math.floor((to - from) / width)}`;
    const sum = classes.get(key) ?? { from: 0, to: 0, units: 0 };
    sum.from += from * units;
    sum.to += to * units;
    sum.units += units;
    classes.set(key, sum);
  }
  return [...classes.values()].map(({ from, to, units }) => ({ from: from / units, to: to / units, units }));
}

function spanSums(spans: readonly Span[], shape: number, scale: number, lastAge = Number.POSITIVE_INFINITY) {
  let [sum, sumOfSquares] = [0, 0];
  for (const { from, to, units } of spans) {
    const end = Math.max(from, Math.min(to, lastAge));
    const probability = -Math.expm1((from / scale) ** shape - (end / scale) ** shape);
    sum += units * probability;
    sumOfSquares += units * probability * probability;
  }
  return { sum, sumOfSquares };
}

function hiddenSums(hidden: readonly HiddenDay[], shape: number, scale: number) {
  let [sum, sumOfSquares] = [0, 0];
  for (const { ageDays, packs } of hidden) {
    const hazard = (ageDays / scale) ** shape - (Math.max(0, ageDays - 1) / scale) ** shape;
    sum += packs * hazard;
    sumOfSquares += packs * hazard * hazard;
  }
  return { sum, sumOfSquares };
}
