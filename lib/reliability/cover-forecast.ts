import { countQuantile } from "@/lib/stats/binomial-mixture";
import { type CoverBasis, coverBasis, packsRunning, type RunningCell } from "./cover-basis";
import { type CoverReserve, coverReserve } from "./cover-reserve";
import { hiddenSums, spanDistribution, spanSums } from "./cover-spans";
import type { Reporting } from "./early-signals";
import { MOST_BEYOND_OBSERVED } from "./failure-forecast";
import type { LifeCell } from "./life-cell";
import { daysAtMonths } from "./months-in-service";

/** Months ahead for which failures are foretold. Common practice, no source. */
export const FORECAST_MONTHS = [3, 6, 12] as const;
export type ForecastMonths = (typeof FORECAST_MONTHS)[number];

export type CoverForecastRefusal =
  | "nothing-running"
  | "too-few-failures"
  | "no-law"
  | "horizon-beyond-observed-ages"
  | "mostly-beyond-observed-ages"
  | "fit-too-uncertain";

export interface ForetoldFailures {
  readonly kind: "forecast";
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

export type CoverForecast =
  | (ForetoldFailures & { readonly months: ForecastMonths })
  | { readonly kind: "refused"; readonly months: ForecastMonths; readonly reason: CoverForecastRefusal };

export interface GroupForecast {
  readonly packsUnderCover: number;
  /** Failures the law rests on: those of the lives cut back by the reporting lag. */
  readonly failures: number;
  readonly forecasts: readonly CoverForecast[];
  readonly reserve: CoverReserve;
  readonly basis: CoverBasis;
}

/**
 * Answers: how many confirmed failures are to be expected of the packs now in use within their cover, in the next 3, 6 and
 * 12 months and until their cover ends, those included that have happened and not reached us yet?
 *
 * Expected = sum over packs of [F(min(age + horizon, age at the end of cover)) - F(age)] / [1 - F(age)], plus the hidden
 * exposure of the last days times the hazard. F is a Weibull distribution fitted to the lives cut back by the lag within
 * which 95 of 100 failures are confirmed, so that young packs do not look good. The 95 % limits hold chance and doubt about the
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
  const basis = coverBasis(cells, running, reporting, lagMostDays);
  return {
    packsUnderCover: packsRunning(running),
    failures: basis.failures,
    forecasts: FORECAST_MONTHS.map((months) => ({ ...foretell(basis, daysAtMonths(months)), months })),
    reserve: coverReserve(basis),
    basis,
  };
}

/** Failures of a basis within so many days, or why nothing can be told. */
export function foretell(
  { law, running, hidden }: CoverBasis,
  horizonDays: number,
): ForetoldFailures | { readonly kind: "refused"; readonly reason: CoverForecastRefusal } {
  const refused = (reason: CoverForecastRefusal) => ({ kind: "refused", reason }) as const;
  if ("refused" in law) return refused(law.refused);
  const { shape, scale, largestAge } = law;
  if (horizonDays > largestAge) return refused("horizon-beyond-observed-ages");

  const spans = running.map(({ ageDays, coverLeftDays, packs: units }) => ({
    from: ageDays,
    to: ageDays + Math.max(0, Math.min(horizonDays, coverLeftDays ?? horizonDays)),
    units,
  }));
  const unreported = hiddenSums(hidden, shape, scale).sum;
  const toCome = spanSums(spans, shape, scale).sum;
  const within = spanSums(spans, shape, scale, largestAge).sum;
  const expected = toCome + unreported;
  const beyondObserved = expected > 0 ? (toCome - within) / expected : 0;
  if (beyondObserved > MOST_BEYOND_OBSERVED) return refused("mostly-beyond-observed-ages");
  const distribution = expected > 0 ? spanDistribution(law, running, spans, hidden) : Float64Array.of(1);
  if (distribution === null) return refused("fit-too-uncertain");
  const [lower, upper] = [countQuantile(distribution, 0.025), countQuantile(distribution, 0.975)];
  return { kind: "forecast", expected, unreported, lower, upper, beyondObserved, distribution };
}
