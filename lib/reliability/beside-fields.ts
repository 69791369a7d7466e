import type { BesideForecast } from "./beside-forecast";
import type { GroupForecast } from "./cover-forecast";
import { countAt, type Horizon } from "./forecast-horizon";

/** First returns, and the failures were those undecided for too long failures, as fields of a table file; empty where nothing can be told. */
export function besideFields(beside: readonly BesideForecast[], of: string, horizon: Horizon): (string | number)[] {
  const found = beside.find(({ group }) => group === of);
  if (found === undefined) return besideFieldNames.map(() => "");
  const { returns, cameBack, longUndecided, ifFailures } = found;
  const soFar = [cameBack.packs, cameBack.returns];
  return [...countFields(returns, horizon), ...soFar, longUndecided, ...countFields(ifFailures, horizon)];
}

function countFields(forecast: GroupForecast | null, horizon: Horizon): (string | number)[] {
  const count = forecast === null ? null : countAt(forecast, horizon);
  return count === null ? ["", "", ""] : [count.expected, count.lower, count.upper];
}

const limits = ["lower 95 % limit", "upper 95 % limit"];

export const besideFieldNames = [
  "first returns expected, whatever comes of them",
  ...limits.map((words) => `${words} of those`),
  "packs that came back within cover so far",
  "returns within cover of those packs so far",
  "returns undecided for too long",
  "failures expected were they failures",
  ...limits.map((words) => `${words} of these`),
];
