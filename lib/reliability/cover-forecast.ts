import { countQuantile } from "@/lib/stats/binomial-mixture";
import { valuesOf } from "./count-distribution";
import { type CoverBasis, coverBasis, type NoLaw, packsRunning, type RunningCell } from "./cover-basis";
import { type CoverReserve, coverReserve } from "./cover-reserve";
import { countsAhead, cutAtOldest, drawnAhead, hiddenSums, spanSums, type TimeBeyond } from "./cover-spans";
import type { FailureLaw } from "./failure-law";
import type { LifeCell, Line } from "./life-cell";
import { daysAtMonths } from "./months-in-service";
import type { Reporting } from "./reporting";
import { isWorthTelling } from "./worth-telling";

/** Months ahead for which failures are foretold. Common practice, no source. */
export const FORECAST_MONTHS = [3, 6, 12] as const;
export type ForecastMonths = (typeof FORECAST_MONTHS)[number];

/** Where the law would put more of the failures at ages no pack has reached, what is left is no answer. Engineering default, no authority. */
export const MOST_BEYOND_OBSERVED = 0.5;

export type CoverForecastRefusal =
  | NoLaw
  | "horizon-beyond-observed-ages"
  | "mostly-beyond-observed-ages"
  | "fit-too-uncertain"
  | "too-few-watched";

export interface ForetoldFailures {
  readonly kind: "forecast";
  /** Failures to come within cover at ages seen, and those that happened but have not reached us: both together. */
  readonly expected: number;
  /** Of these, already happened and still on their way to us. */
  readonly unreported: number;
  readonly lower: number;
  readonly upper: number;
  /** Time within the horizon at ages older than any seen, with the share of failures the law would put there were it carried on. */
  readonly beyond: TimeBeyond;
  readonly beyondObserved: number;
  /** Probability of each number of failures, from 0. */
  readonly distribution: Float64Array;
  /** Of a lent law: the same drawn towards the likes throughout, for lower limits of sums. */
  readonly drawn?: Float64Array;
}

export type CoverForecast =
  | (ForetoldFailures & { readonly months: ForecastMonths })
  | {
      readonly kind: "refused";
      readonly months: ForecastMonths;
      readonly reason: CoverForecastRefusal;
      readonly tellable: TellableHorizon;
    };

/** How far ahead, or since when, something can be told where a horizon is refused for the ages it reaches. */
export interface TellableHorizon {
  /** Days ahead for which it can be told today, with limits to plan by; null where for none, or where another reason stands against it. */
  readonly forDays: number | null;
  /** Days until a pack can have been watched for so long as the horizon is; null where that is not what is missing. */
  readonly earliestInDays: number | null;
}

export interface GroupForecast {
  readonly packsUnderCover: number;
  /** Failures the law rests on: those of the lives cut back by the reporting lag. */
  readonly failures: number;
  readonly forecasts: readonly CoverForecast[];
  readonly reserve: CoverReserve;
  readonly basis: CoverBasis;
}

/**
 * Answers: how many confirmed failures (or first returns, whatever comes of them) are to be expected of the packs now in use within their cover, in the next 3, 6 and
 * 12 months and until their cover ends, those included that have happened and not reached us yet?
 *
 * Expected = sum over packs of [F(min(age + horizon, age at the end of cover)) - F(age)] / [1 - F(age)], plus the hidden
 * exposure of the last days times the hazard. F is the law preferred for the lives cut back by the longest lag
 * that is waited for, so that young packs do not look good: a Weibull distribution for all packs or for a part of them. A pack
 * is followed up to the oldest age seen; what lies beyond is told as time. The number expected is that of the fitted law (the point
 * prediction of section 12.7), not the mean of the distribution the limits are read off, which few failures pull far up. The 95 % limits hold chance, doubt about the law, and
 * the doubt whether others fail at ages it says next to nothing fails at (`withQuietAges`). Packs not yet sold and returns not yet decided are not in it. Ages in days.
 *
 * @param likes cells of the others of its model: with too few failures of its own it is lent the shape of theirs (`lentLaw`).
 * Sources: Meeker & Escobar, Statistical Methods for Reliability Data (1998), sections 12.5 to 12.7; Kalbfleisch, Lawless &
 * Robinson, Technometrics 33 (1991) 273 for what is on its way.
 */
export function forecastGroup(
  cells: readonly LifeCell[],
  running: readonly RunningCell[],
  reporting: Reporting,
  settledDays: number,
  line: Line = "confirmed",
  likes: readonly LifeCell[] = [],
): GroupForecast {
  return forecastFrom(coverBasis(cells, running, reporting, settledDays, line, likes));
}

/**
 * Answers: how many of the packs put right after a failure and in use again fail once more? As bad as old (minimal repair): the law of
 * their group at their own age, as if they had never failed. Whether a repair makes a pack better, or a first failure foretells a second, is not known.
 */
export function forecastAgain(
  cells: readonly LifeCell[],
  backInUse: readonly RunningCell[],
  reporting: Reporting,
  settledDays: number,
  likes: readonly LifeCell[],
): GroupForecast {
  return forecastFrom({ ...coverBasis(cells, backInUse, reporting, settledDays, "confirmed", likes), hidden: [] });
}

/** The same from what a forecast rests, or rested, on. */
export function forecastFrom(basis: CoverBasis): GroupForecast {
  return {
    packsUnderCover: packsRunning(basis.running),
    failures: basis.failures,
    forecasts: FORECAST_MONTHS.map((months) => forecastAt(basis, months)),
    reserve: coverReserve(basis),
    basis,
  };
}

function forecastAt(basis: CoverBasis, months: ForecastMonths): CoverForecast {
  const forecast = foretell(basis, daysAtMonths(months));
  if (forecast.kind === "forecast") return { ...forecast, months };
  return { ...forecast, months, tellable: tellableHorizon(basis, daysAtMonths(months), forecast.reason) };
}

function tellableHorizon(basis: CoverBasis, days: number, reason: CoverForecastRefusal): TellableHorizon {
  const { law } = basis;
  const isOfAges = reason === "horizon-beyond-observed-ages" || reason === "mostly-beyond-observed-ages";
  if ("refused" in law || !isOfAges) return { forDays: null, earliestInDays: null };
  const most = Math.floor(Math.min(days, law.largestAge));
  const ofAges = longest(most, (ahead) => shareBeyond(law, basis, ahead).beyondObserved <= MOST_BEYOND_OBSERVED);
  const isTold = (ahead: number) => isWorthForetelling(basis, ahead);
  const told = isTold(ofAges) ? ofAges : longest(ofAges, isTold);
  const missing = Math.ceil(days - law.largestAge);
  return { forDays: told === 0 ? null : told, earliestInDays: missing > 0 ? missing : null };
}

/** The last of the days from 1 to `most` up to which it can be told; 0 for none. */
function longest(most: number, canBeTold: (days: number) => boolean): number {
  let [told, refused] = [0, most + 1];
  while (refused - told > 1) {
    const middle = (told + refused) >> 1;
    if (canBeTold(middle)) told = middle;
    else refused = middle;
  }
  return told;
}

function isWorthForetelling(basis: CoverBasis, days: number): boolean {
  const ahead = foretell(basis, days);
  return ahead.kind === "forecast" && isWorthTelling(ahead);
}

/** Time ahead of packs under cover, that part of it at ages seen, and the share of failures the law puts beyond. */
function shareBeyond(
  law: FailureLaw,
  { running, hidden }: Pick<CoverBasis, "running" | "hidden">,
  horizonDays: number,
) {
  const values = valuesOf(law);
  const spans = running.map(({ ageDays, coverLeftDays, packs: units }) => ({
    from: ageDays,
    to: ageDays + Math.max(0, Math.min(horizonDays, coverLeftDays ?? horizonDays)),
    units,
  }));
  const { seen, beyond } = cutAtOldest(spans, law.largestAge);
  const unreported = hiddenSums(hidden, values).sum;
  const toCome = spanSums(spans, values).sum;
  const whole = toCome + unreported;
  const beyondObserved = whole > 0 ? Math.max(0, toCome - spanSums(seen, values).sum) / whole : 0;
  return { spans, seen, beyond, unreported, beyondObserved };
}

/**
 * Failures of a basis within so many days, or why nothing can be told. Where the law would put at most the share `carriedOn` of
 * them at ages no pack has reached, it is carried on there; else these ages are left out. A lent law is not told by where the
 * few packs that were watched themselves leave the upper limit so far off that it would be that of every sum.
 */
export function foretell(
  { law, running, hidden }: CoverBasis,
  horizonDays: number,
  carriedOn = 0,
): ForetoldFailures | { readonly kind: "refused"; readonly reason: CoverForecastRefusal } {
  const refused = (reason: CoverForecastRefusal) => ({ kind: "refused", reason }) as const;
  if ("refused" in law) return refused(law.refused);
  if (horizonDays > law.largestAge) return refused("horizon-beyond-observed-ages");

  const { spans, seen, beyond, unreported, beyondObserved } = shareBeyond(law, { running, hidden }, horizonDays);
  if (beyondObserved > MOST_BEYOND_OBSERVED) return refused("mostly-beyond-observed-ages");
  const told = beyondObserved <= carriedOn ? spans : seen;
  const expected = spanSums(told, valuesOf(law)).sum + unreported;
  const distribution = countsAhead(law, running, told, hidden);
  if (distribution === null) return refused("fit-too-uncertain");
  const [lower, upper] = [countQuantile(distribution, 0.025), countQuantile(distribution, 0.975)];
  if (law.lent && !isWorthTelling({ expected, upper })) return refused("too-few-watched");
  const drawn = drawnAhead(law, running, told, hidden);
  return { kind: "forecast", expected, unreported, lower, upper, beyond, beyondObserved, distribution, ...drawn };
}
