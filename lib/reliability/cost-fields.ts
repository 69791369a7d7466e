import { plainAmount } from "@/lib/settlement/money";
import type { ForetoldCost } from "./cost-forecast";
import { missingCost } from "./cost-sentences";
import type { FailureCost, KnownCost } from "./failure-cost";
import type { CostTotal } from "./priced-forecast";
import { COST_RULES_VERSION } from "./rule-version";

/** Names of the fields about cost in every file of forecasts. */
export const costFieldNames = [
  "cost rules",
  "currency",
  "mean cost of one failure",
  "lower 95 % limit of the mean",
  "upper 95 % limit of the mean",
  "spread of single failures",
  "decided failures the remedies rest on",
  "other returns for one failure",
  "lower 95 % limit of that number",
  "upper 95 % limit of that number",
  "other returns in the cost",
  "cost expected",
  "lower 95 % limit of the cost",
  "upper 95 % limit of the cost",
  "cost unknown because",
];

/** The fields of a row: amounts in units of the currency, empty where nothing can be told. */
export function costFields(cost: FailureCost, foretold: ForetoldCost | null): (string | number)[] {
  const { currency } = cost;
  const amount = (minor: number) => plainAmount(Math.round(minor), currency);
  return [
    COST_RULES_VERSION,
    currency,
    ...(cost.kind === "cost"
      ? [...[cost.mean, cost.lower, cost.upper, cost.spread].map(amount), cost.decided, ...besideFields(cost)]
      : ["", "", "", "", "", "", "", "", ""]),
    ...(foretold === null ? ["", "", ""] : [foretold.expected, foretold.lower, foretold.upper].map(amount)),
    missingCost(cost).join(" "),
  ];
}

/** The same of all groups that have a cost: the sum, and which have none. */
export function totalCostFields(total: CostTotal | null): (string | number)[] {
  const ofOne = Array.from({ length: 9 }, () => "");
  if (total === null) return [COST_RULES_VERSION, "", ...ofOne, "", "", "", "No revision that is foretold has a cost."];
  const { currency, unpriced } = total;
  const without =
    unpriced.length === 0 ? "" : `Without ${unpriced.join(", ")}: what a failure costs there is not known.`;
  return [COST_RULES_VERSION, currency, ...ofOne, ...amountFields(total), without];
}

/** Expected amount and its limits in units of the currency, which stands in a field of its own; empty where nothing can be told. */
export function amountFields(cost: Pick<ForetoldCost, "currency" | "expected" | "lower" | "upper"> | null): string[] {
  if (cost === null) return ["", "", ""];
  return [cost.expected, cost.lower, cost.upper].map((minor) => plainAmount(Math.round(minor), cost.currency));
}

function besideFields({ beside: { ratio, lower, upper, kind } }: KnownCost): (string | number)[] {
  return [ratio, lower, upper, kind === "known" ? "yes" : "no"];
}
