import { type CoverForecastRefusal, FORECAST_MONTHS, type ForecastMonths, type GroupForecast } from "./cover-forecast";

/** How far a forecast looks: months ahead, or to each pack's own end of cover. */
export type Horizon = ForecastMonths | "cover-end";
export const horizons: readonly Horizon[] = [...FORECAST_MONTHS, "cover-end"];

/** The failures foretold for a horizon; null where nothing is. */
export function countAt({ forecasts, reserve }: GroupForecast, horizon: Horizon) {
  if (horizon === "cover-end") return reserve.kind === "reserve" ? reserve : null;
  const found = forecasts.find(({ months }) => months === horizon);
  return found?.kind === "forecast" ? found : null;
}

const reasonsOfAges: ReadonlySet<CoverForecastRefusal> = new Set([
  "horizon-beyond-observed-ages",
  "mostly-beyond-observed-ages",
]);

/** Whether nothing is foretold for a horizon because of the ages it reaches; a reserve ends at those seen and is never refused for them. */
export function isRefusedForAges({ forecasts }: GroupForecast, horizon: Horizon): boolean {
  const found = forecasts.find(({ months }) => months === horizon);
  return found?.kind === "refused" && reasonsOfAges.has(found.reason);
}
