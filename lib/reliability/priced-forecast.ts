import { type CostOfOne, type ForetoldCost, foretoldCost, foretoldCostOfAll } from "./cost-forecast";
import type { GroupForecast } from "./cover-forecast";
import type { FailureCost } from "./failure-cost";
import { countAt, type Horizon } from "./forecast-horizon";

/** The failures of a group foretold, and what they will cost. */
export interface PricedForecast extends GroupForecast {
  readonly group: string;
  readonly model: string;
  readonly cost: FailureCost;
  /** Null where nothing is foretold or the cost is unknown. */
  readonly costs: Readonly<Record<Horizon, ForetoldCost | null>>;
}

export function priced(
  of: { readonly group: string; readonly model: string },
  forecast: GroupForecast,
  cost: FailureCost,
): PricedForecast {
  const at = (horizon: Horizon) => foretoldCost(countAt(forecast, horizon), cost);
  return { ...of, ...forecast, cost, costs: { 3: at(3), 6: at(6), 12: at(12), "cover-end": at("cover-end") } };
}

export interface CostTotal extends ForetoldCost {
  /** Groups whose failures are foretold and whose cost is not known: the total leaves them out. */
  readonly unpriced: readonly string[];
  /** Failures foretold that it is the cost of. */
  readonly failures: number;
}

/** What a failure costs, as far as a total has to know it. */
export type CostForTotal = (CostOfOne & { readonly kind: "cost" }) | { readonly kind: "unknown" };

/** The cost of all groups that have one. Null where none has. */
export function totalCost(
  groups: readonly (GroupForecast & { readonly group: string; readonly cost: CostForTotal })[],
  horizon: Horizon,
): CostTotal | null {
  const told = groups.flatMap((group) => {
    const count = countAt(group, horizon);
    return count === null ? [] : [{ group: group.group, count, cost: group.cost }];
  });
  const known = told.flatMap(({ count, cost }) => (cost.kind === "cost" ? [{ count, cost }] : []));
  const total = foretoldCostOfAll(known);
  const unpriced = told.flatMap(({ group, cost }) => (cost.kind === "unknown" ? [group] : []));
  const failures = known.reduce((sum, { count }) => sum + count.expected, 0);
  return total === null ? null : { ...total, unpriced, failures };
}
