import { type EventHistory, meanCumulativeFunction } from "@/lib/stats/mean-cumulative-function";
import { poissonRate } from "@/lib/stats/poisson-limits";
import { type BesideForecast, type ComeBack, countComeBack, type totalsIfFailures } from "./beside-forecast";
import type { GroupForecast } from "./cover-forecast";
import type { Horizon } from "./forecast-horizon";
import { forecastRefusalClause, lentSentence, sayExpected } from "./forecast-sentences";
import type { ForecastTotal } from "./forecast-total";
import { grouped } from "./plain-share";
import { hundred } from "./repeat-returns";

type Told = Pick<ForecastTotal, "expected" | "lower" | "upper">;

/** "12.3, between 5 and 21", or why nothing can be told. */
export function sayForetold(
  forecast: GroupForecast,
  horizon: Horizon,
  refusalClause: typeof forecastRefusalClause = forecastRefusalClause,
): string {
  const found =
    horizon === "cover-end" ? forecast.reserve : forecast.forecasts.find(({ months }) => months === horizon);
  if (found === undefined) return "cannot tell yet";
  return found.kind === "refused" ? `cannot tell yet: ${refusalClause(found.reason)}` : sayTold(found);
}

function sayTold({ expected, lower, upper }: Told): string {
  return `${sayExpected(expected)}, between ${grouped(lower)} and ${grouped(upper)}`;
}

/** What the undecided returns could change, over the revisions of which both can be told; empty where there is none. */
export function ifFailuresTotalSentence(
  both: ReturnType<typeof totalsIfFailures>,
  beside: readonly BesideForecast[],
  waitedDays: number,
): string {
  const waiting = beside.reduce((sum, { longUndecided }) => sum + longUndecided, 0);
  if (waiting === 0 || both === null) return "";
  const what = waiting === 1 ? "1 return has" : `${grouped(waiting)} returns have`;
  const open = `${what} been undecided for ${grouped(waitedDays)} days or more and ${waiting === 1 ? "is" : "are"} in no law as ${waiting === 1 ? "a failure" : "failures"}: were ${waiting === 1 ? "it one" : "all of them"},`;
  const { totals, leftOut } = both;
  if (totals === null) return `${open} how many would be to come cannot be told.`;
  const without =
    leftOut.length === 0
      ? ""
      : ` Neither number holds ${leftOut.join(", ")}, of which not both can be told, though such returns wait there.`;
  return `${open} ${sayTold(totals.ifFailures)} would be to come instead of ${sayExpected(totals.asTheyStand.expected)}.${without}`;
}

/** What the workshop has to staff for, over all revisions. */
export function returnsSentence(total: ForecastTotal | null, until: string): string {
  if (total === null) return `How many packs will come back for the first time ${until} cannot be told yet.`;
  const { expected, lower, upper } = total;
  return `Whatever comes of them, ${sayExpected(expected)} packs are to be expected back for the first time ${until}, between ${grouped(lower)} and ${grouped(upper)} (95 % limits); what comes back again is not in that.${lentSentence(total, "returns")}`;
}

/** Of fewer packs that came back it is not told how many come again. Engineering default, no authority. */
const FEWEST_COME_BACK = 20;

/**
 * How many returns come on top of the first ones, by what came back so far; empty where nothing came. Limits as of the mean
 * cumulative function, which assume nothing of how one pack's returns hang together, and never shorter than the exact ones of Poisson.
 */
export function againSentence(comeBack: readonly Omit<ComeBack, "group">[]): string {
  const { packs, returns } = countComeBack(comeBack);
  if (packs === 0) return "";
  const came = packs === 1 ? "1 pack came" : `${grouped(packs)} packs came`;
  const soFar = `So far ${came} back within cover in ${grouped(returns)} ${returns === 1 ? "return" : "returns"}`;
  if (packs < FEWEST_COME_BACK)
    return `${soFar}: how many more come of the same packs is not told of fewer than ${FEWEST_COME_BACK} packs.`;
  const { rate, ...poisson } = poissonRate(returns - packs, packs);
  const spread = meanCumulativeFunction(comeBack.flatMap(againHistories)).at(-1) ?? poisson;
  const [lower, upper] = [Math.min(poisson.lower, spread.lower), Math.max(poisson.upper, spread.upper)];
  return `${soFar}: for 100 first returns ${hundred(rate)} more of the same packs (95 % limits ${hundred(lower)} to ${hundred(upper)}, which allow for one pack that comes again and again). Packs that came lately have hardly had time to come again, so this is rather too low.`;
}

/** Returns beyond the first, each pack watched for one length of time, at whose middle they lie: their number alone counts. */
function againHistories({ packs, returns }: Omit<ComeBack, "group">): EventHistory[] {
  const events = Array.from({ length: returns - 1 }, () => 0.5);
  return Array.from({ length: packs }, () => ({ to: 1, events }));
}
