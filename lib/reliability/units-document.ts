import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import type { LifeCount } from "@/lib/stats/life-counts";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { weibullLimits } from "@/lib/stats/weibull-limits";
import { curveWarnings } from "./curve-warnings";
import { forecastFailures } from "./failure-forecast";
import { compareGroups, type GroupComparison } from "./group-comparison";
import { forecastRefusal, weibullRefusal } from "./refusal-sentences";
import type { UnitGroup } from "./unit-groups";

/** What the document shall hold besides counts and curves; what is not asked for is left out. */
export interface UnitsRequest {
  readonly compare: boolean;
  readonly weibull: boolean;
  /** In the unit of the ages; null for no forecast. */
  readonly forecastHorizon: number | null;
}

type Refused = { readonly refused: string };

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
  readonly weibull?: WeibullDocument | Refused;
  readonly warnings: readonly string[];
}

export interface WeibullDocument {
  readonly shape: number;
  readonly scale: number;
  readonly logLikelihood: number;
  readonly shapeLimits: readonly [lower: number, upper: number];
  readonly scaleLimits: readonly [lower: number, upper: number];
}

export type ForecastDocument =
  | {
      readonly group: string;
      readonly expected: number;
      readonly lower: number;
      readonly upper: number;
      readonly beyondObserved: number;
    }
  | ({ readonly group: string } & Refused);

export interface UnitsDocument {
  readonly groups: readonly GroupDocument[];
  readonly comparison?: GroupComparison | Refused;
  readonly forecast?: readonly ForecastDocument[];
}

/** The document that the reliability command prints: counts, survival with 95 % log-log limits, and what was asked for. */
export function unitsDocument(groups: readonly UnitGroup[], request: UnitsRequest): UnitsDocument {
  const { forecastHorizon } = request;
  return {
    groups: groups.map((group) => groupDocument(group, request)),
    ...(request.compare && { comparison: compareGroups(groups) }),
    ...(forecastHorizon !== null && { forecast: groups.map((group) => forecastDocument(group, forecastHorizon)) }),
  };
}

function groupDocument({ group, counts, refusals }: UnitGroup, { weibull }: UnitsRequest): GroupDocument {
  const curve = kaplanMeier(counts);
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
    ...(weibull && { weibull: weibullDocument(counts) }),
    warnings: curveWarnings(curve, refusals),
  };
}

function weibullDocument(counts: readonly LifeCount[]): WeibullDocument | Refused {
  const fit = fitWeibull(counts);
  if (fit.kind === "refused") return { refused: weibullRefusal(fit.reason) };
  const limits = weibullLimits(fit);
  if (limits === null) return { refused: weibullRefusal("limits-unbounded") };
  return {
    shape: fit.shape,
    scale: fit.scale,
    logLikelihood: fit.logLikelihood,
    shapeLimits: [limits.shape.lower, limits.shape.upper],
    scaleLimits: [limits.scale.lower, limits.scale.upper],
  };
}

function forecastDocument({ group, counts }: UnitGroup, horizon: number): ForecastDocument {
  const fit = fitWeibull(counts);
  if (fit.kind === "refused") return { group, refused: weibullRefusal(fit.reason) };
  const running = counts.filter(({ censored }) => censored > 0).map(({ age, censored }) => ({ age, units: censored }));
  const forecast = forecastFailures(fit, running, horizon);
  if (forecast.kind === "refused") return { group, refused: forecastRefusal(forecast.reason) };
  const { expected, lower, upper, beyondObserved } = forecast;
  return { group, expected, lower, upper, beyondObserved };
}
