import type { BesideForecast } from "./beside-forecast";
import type { GroupForecast } from "./cover-forecast";
import type { Horizon } from "./forecast-horizon";
import { forecastRefusalClause, sayExpected } from "./forecast-sentences";
import type { ForecastTotal } from "./forecast-total";
import { grouped } from "./plain-share";

type Told = Pick<ForecastTotal, "expected" | "lower" | "upper">;

/** "12.3, between 5 and 21", or why nothing can be told. */
export function sayForetold(forecast: GroupForecast, horizon: Horizon): string {
  const found =
    horizon === "cover-end" ? forecast.reserve : forecast.forecasts.find(({ months }) => months === horizon);
  if (found === undefined) return "cannot tell yet";
  return found.kind === "refused" ? `cannot tell yet: ${forecastRefusalClause(found.reason)}` : sayTold(found);
}

function sayTold({ expected, lower, upper }: Told): string {
  return `${sayExpected(expected)}, between ${grouped(lower)} and ${grouped(upper)}`;
}

/** The range that the undecided returns leave open; empty where there is none. */
export function rangeSentence(
  plain: ForecastTotal | null,
  ifFailures: ForecastTotal | null,
  beside: readonly BesideForecast[],
  waitedDays: number,
): string {
  const waiting = beside.reduce((sum, { longUndecided }) => sum + longUndecided, 0);
  if (waiting === 0 || ifFailures === null) return "";
  const now = plain === null ? "" : ` instead of ${sayExpected(plain.expected)}`;
  const what = waiting === 1 ? "1 return has" : `${grouped(waiting)} returns have`;
  return `${what} been undecided for ${grouped(waitedDays)} days or more and ${waiting === 1 ? "is" : "are"} in no law as failures: were ${waiting === 1 ? "it one" : "all of them"}, ${sayTold(ifFailures)} would be to come${now}.`;
}

/** What the workshop has to staff for, over all revisions. */
export function returnsSentence(total: ForecastTotal | null, until: string): string {
  if (total === null) return `How many packs will come back for the first time ${until} cannot be told yet.`;
  const { expected, lower, upper } = total;
  return `Whatever comes of them, ${sayExpected(expected)} packs are to be expected back for the first time ${until}, between ${grouped(lower)} and ${grouped(upper)} (95 % limits); what comes back again is not in that.`;
}
