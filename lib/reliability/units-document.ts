import { cumulativeIncidence } from "@/lib/stats/cumulative-incidence";
import { type KaplanMeierCurve, kaplanMeier } from "@/lib/stats/kaplan-meier";
import { lifeExposure } from "@/lib/stats/life-counts";
import { twoSidedNormalQuantile } from "@/lib/stats/normal-quantile";
import { poissonRate } from "@/lib/stats/poisson-limits";
import { survivalQuantile } from "@/lib/stats/survival-quantile";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { type ComparisonDocument, comparisonDocument } from "./comparison-document";
import type { ForetoldCost } from "./cost-forecast";
import { type GivenCost, givenCostForecast } from "./cost-option";
import { FEWEST_FOR_FORECAST } from "./cover-basis";
import { curveWarnings } from "./curve-warnings";
import { forecastFailures, MOST_BEYOND_OBSERVED } from "./failure-forecast";
import { forecastRefusal, weibullRefusal } from "./refusal-sentences";
import { type RepeatsDocument, repeatsDocument } from "./repeats-document";
import type { UnitGroup } from "./unit-groups";
import {
  type Refused,
  type WeibayesDocument,
  type WeibullDocument,
  weibayesDocument,
  weibullDocument,
} from "./weibull-document";

/** What the document shall hold besides counts and curves; what is not asked for is left out. */
export interface UnitsRequest {
  readonly compare: boolean;
  readonly weibull: boolean;
  /** Failed share per cause, where the file names causes. */
  readonly modes?: boolean;
  /** Mean number of events per unit by age, where the file names its units. */
  readonly repeats?: boolean;
  /** A Weibull shape to assume; null for none. */
  readonly assumedShape?: number | null;
  /** In the unit of the ages; null for no forecast. */
  readonly forecastHorizon: number | null;
  /** Cost of one failure, for the cost of the forecast; null or missing for none. */
  readonly costOfOne?: GivenCost | null;
}

export interface GroupDocument {
  readonly group: string;
  readonly units: number;
  readonly failures: number;
  readonly survival: readonly {
    readonly age: number;
    readonly atRisk: number;
    readonly failures: number;
    readonly survival: number;
    readonly standardError: number;
    readonly lower: number;
    readonly upper: number;
  }[];
  /** Cumulative hazard at the same ages; limits on its logarithm. */
  readonly nelsonAalen: readonly {
    readonly age: number;
    readonly cumulativeHazard: number;
    readonly standardError: number;
    readonly lower: number;
    readonly upper: number;
  }[];
  /** Age by which half have failed; null where the curve does not come down that far. */
  readonly median: { readonly age: number | null; readonly lower: number | null; readonly upper: number | null };
  /** Failures per unit of time at risk with exact limits; null where nobody was watched. Fair only for a constant hazard. */
  readonly rate: RateDocument | null;
  readonly weibull?: WeibullDocument | Refused;
  readonly weibayes?: readonly WeibayesDocument[];
  readonly modes?: readonly ModeDocument[] | Refused;
  readonly repeats?: RepeatsDocument | Refused;
  readonly warnings: readonly string[];
}

export interface RateDocument {
  readonly failures: number;
  readonly exposure: number;
  readonly rate: number;
  readonly lower: number;
  readonly upper: number;
}

export interface ModeDocument {
  readonly cause: string;
  readonly failures: number;
  readonly incidence: readonly {
    readonly age: number;
    readonly atRisk: number;
    readonly failures: number;
    readonly incidence: number;
    readonly standardError: number;
    readonly lower: number;
    readonly upper: number;
  }[];
}

export type ForecastDocument =
  | {
      readonly group: string;
      readonly expected: number;
      readonly lower: number;
      readonly upper: number;
      readonly beyondObserved: number;
      /** Only where the cost of one failure was given; in units of its currency. */
      readonly cost?: ForetoldCost;
    }
  | ({ readonly group: string } & Refused);

export interface UnitsDocument {
  readonly groups: readonly GroupDocument[];
  readonly comparison?: ComparisonDocument | Refused;
  readonly forecast?: readonly ForecastDocument[];
}

/**
 * The document that the reliability command prints: counts, survival with 95 % log-log limits, cumulative hazard, median and
 * rate, and what was asked for.
 */
export function unitsDocument(groups: readonly UnitGroup[], request: UnitsRequest): UnitsDocument {
  const { forecastHorizon } = request;
  return {
    groups: groups.map((group) => groupDocument(group, request)),
    ...(request.compare && { comparison: comparisonDocument(groups) }),
    ...(forecastHorizon !== null && {
      forecast: groups.map((group) => forecastDocument(group, forecastHorizon, request.costOfOne ?? null)),
    }),
  };
}

function groupDocument(unitGroup: UnitGroup, request: UnitsRequest): GroupDocument {
  const { group, counts, refusals } = unitGroup;
  const curve = kaplanMeier(counts);
  const assumed = weibayesDocument(counts, curve.failures, request.assumedShape ?? null);
  const asksForShape = request.weibull || (request.assumedShape ?? null) !== null;
  return {
    group,
    units: curve.units,
    failures: curve.failures,
    survival: curve.steps.map(({ age, atRisk, failures, survival, standardError, lower, upper }) => ({
      age,
      atRisk,
      failures,
      survival,
      standardError,
      lower,
      upper,
    })),
    nelsonAalen: hazardSteps(curve),
    median: survivalQuantile(curve, 0.5),
    rate: rateDocument(unitGroup, curve.failures),
    ...(request.weibull && { weibull: weibullDocument(counts) }),
    ...(asksForShape && assumed !== null && { weibayes: assumed }),
    ...(request.modes && { modes: modesDocument(unitGroup) }),
    ...(request.repeats && { repeats: repeatsDocument(unitGroup.units) }),
    warnings: curveWarnings(curve, refusals),
  };
}

function hazardSteps({ steps, confidence }: KaplanMeierCurve): GroupDocument["nelsonAalen"] {
  const z = twoSidedNormalQuantile(confidence);
  return steps.map(({ age, cumulativeHazard, cumulativeHazardVariance }) => {
    const standardError = Math.sqrt(cumulativeHazardVariance);
    const spread = Math.exp((z * standardError) / cumulativeHazard);
    return { age, cumulativeHazard, standardError, lower: cumulativeHazard / spread, upper: cumulativeHazard * spread };
  });
}

function rateDocument({ counts }: UnitGroup, failures: number): RateDocument | null {
  const exposure = lifeExposure(counts);
  if (!(exposure > 0)) return null;
  const { rate, lower, upper } = poissonRate(failures, exposure);
  return { failures, exposure, rate, lower, upper };
}

function modesDocument({ byCause }: UnitGroup): ModeDocument[] | Refused {
  if (byCause === null) return { refused: "The file has no column named cause." };
  return cumulativeIncidence(byCause).map(({ cause, failures, steps }) => ({ cause, failures, incidence: steps }));
}

function forecastDocument(
  { group, counts }: UnitGroup,
  horizon: number,
  costOfOne: GivenCost | null,
): ForecastDocument {
  const fit = fitWeibull(counts);
  if (fit.kind === "refused") return { group, refused: weibullRefusal(fit.reason) };
  if (fit.failures < FEWEST_FOR_FORECAST)
    return { group, refused: `Fewer than ${FEWEST_FOR_FORECAST} failures carry no law to foretell from.` };
  const running = counts.filter(({ censored }) => censored > 0).map(({ age, censored }) => ({ age, units: censored }));
  const forecast = forecastFailures(fit, running, horizon);
  if (forecast.kind === "refused") return { group, refused: forecastRefusal(forecast.reason) };
  const { expected, lower, upper, beyondObserved } = forecast;
  if (beyondObserved > MOST_BEYOND_OBSERVED)
    return { group, refused: "Most of what would be foretold lies at ages no unit has reached: nothing supports it." };
  const cost = costOfOne === null ? null : givenCostForecast(forecast, costOfOne);
  return { group, expected, lower, upper, beyondObserved, ...(cost !== null && { cost }) };
}
