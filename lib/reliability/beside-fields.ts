import { type BesideForecast, costAgain, totalAgain, totalReturns, totalsIfFailures } from "./beside-forecast";
import { amountFields } from "./cost-fields";
import type { GroupForecast } from "./cover-forecast";
import { countAt, type Horizon } from "./forecast-horizon";
import { lentWords } from "./forecast-sentences";
import type { PricedForecast } from "./priced-forecast";

/** First returns, the failures were those undecided for too long failures, and what fails again, as fields of a table file; empty where nothing can be told. */
export function besideFields(
  beside: readonly BesideForecast[],
  of: string,
  horizon: Horizon,
  forecasts: readonly Pick<PricedForecast, "group" | "cost">[],
): (string | number)[] {
  const found = beside.find(({ group }) => group === of);
  if (found === undefined) return besideFieldNames.map(() => "");
  const { returns, cameBack, longUndecided, ifFailures, again } = found;
  const soFar = [cameBack.packs, cameBack.returns];
  const lent = [lentWords(returns.basis, "returns"), ifFailures === null ? "" : lentWords(ifFailures.basis)];
  return [
    ...countFields(returns, horizon),
    ...soFar,
    longUndecided,
    ...countFields(ifFailures, horizon),
    ...lent,
    ...againFields(again, horizon),
    ...amountFields(costAgain([found], forecasts, horizon)),
  ];
}

/** The same of all groups; were those returns failures, only where of every group with such returns both can be told. */
export function besideTotalFields(
  forecasts: readonly PricedForecast[],
  beside: readonly BesideForecast[],
  horizon: Horizon,
): (string | number)[] {
  const both = totalsIfFailures(forecasts, beside, horizon);
  const sum = (of: (one: BesideForecast) => number) => beside.reduce((total, one) => total + of(one), 0);
  return [
    ...limitFields(totalReturns(beside, horizon)),
    sum(({ cameBack }) => cameBack.packs),
    sum(({ cameBack }) => cameBack.returns),
    sum(({ longUndecided }) => longUndecided),
    ...limitFields(both === null || both.leftOut.length > 0 ? null : (both.totals?.ifFailures ?? null)),
    ...["", ""],
    sum(({ again }) => again?.packsUnderCover ?? 0),
    ...limitFields(totalAgain(beside, horizon)),
    ...amountFields(costAgain(beside, forecasts, horizon)),
  ];
}

function againFields(again: GroupForecast | null, horizon: Horizon): (string | number)[] {
  return [again?.packsUnderCover ?? 0, ...countFields(again, horizon)];
}

function countFields(forecast: GroupForecast | null, horizon: Horizon): (string | number)[] {
  return limitFields(forecast === null ? null : countAt(forecast, horizon));
}

function limitFields(
  count: { readonly expected: number; readonly lower: number; readonly upper: number } | null,
): (string | number)[] {
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
  "law of first returns",
  "law were they failures",
  "packs put right after a failure and in use again",
  "failures of those expected again, on top",
  ...limits.map((words) => `${words} of these again`),
  "cost of these again, on top",
  ...limits.map((words) => `${words} of their cost`),
];
