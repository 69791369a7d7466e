import { FORECAST_MONTHS, type ForecastMonths, type GroupForecast } from "./cover-forecast";

/** How far a forecast looks: months ahead, or to each pack's own end of cover. */
export type Horizon = ForecastMonths | "cover-end";
export const horizons: readonly Horizon[] = [...FORECAST_MONTHS, "cover-end"];

/** The failures foretold for a horizon; null where nothing is. */
export function countAt({ forecasts, reserve }: GroupForecast, horizon: Horizon) {
  if (horizon === "cover-end") return reserve.kind === "reserve" ? reserve : null;
  const found = forecasts.find(({ months }) => months === horizon);
  return found?.kind === "forecast" ? found : null;
}
