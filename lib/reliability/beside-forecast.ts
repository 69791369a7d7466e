import type { RunningCell } from "./cover-basis";
import { forecastAgain, forecastGroup, type GroupForecast } from "./cover-forecast";
import { countAt, type Horizon } from "./forecast-horizon";
import { type ForecastTotal, totalForecast } from "./forecast-total";
import type { LifeCell } from "./life-cell";
import { countLongUndecided, takenAsFailures } from "./long-undecided";
import { type CostForTotal, type CostTotal, totalCost } from "./priced-forecast";
import type { Reporting } from "./reporting";

/** What stands beside the confirmed failures foretold of a group: how many they would be in one other case, and what comes to the workshop. */
export interface BesideForecast {
  readonly group: string;
  /** Returns undecided for so long that nothing allows for them, and the forecast were they failures; null where there is none. */
  readonly longUndecided: number;
  readonly ifFailures: GroupForecast | null;
  /** First returns within cover of packs that have had none, whatever comes of them. */
  readonly returns: GroupForecast;
  /** Failures of packs put right after one and in use again; `packsUnderCover` says of how many. Null where there is none. */
  readonly again: GroupForecast | null;
  /** Packs of the group that have come back within cover so far, and their returns. */
  readonly cameBack: { readonly packs: number; readonly returns: number };
}

/** So many packs of a group that each came back within cover in so many returns: those beyond the first are in no forecast of first returns. */
export interface ComeBack {
  readonly group: string;
  readonly packs: number;
  readonly returns: number;
}

export interface BesideQuestion {
  readonly group: string;
  /** Lives of the group, both lines. */
  readonly cells: readonly LifeCell[];
  /** Of the others of its model, both lines: they lend a law where the group has too few failures, or returns, for one. */
  readonly likes: readonly LifeCell[];
  readonly running: readonly RunningCell[];
  readonly runningWithoutReturn: readonly RunningCell[];
  /** Packs put right after a confirmed failure and in use again under cover, by the age they have come to since. */
  readonly backInUse: readonly RunningCell[];
  /** Of all groups; those of this one are counted. */
  readonly comeBack: readonly ComeBack[];
  /** From told to lodged: what has not reached us. */
  readonly reporting: Reporting;
  /** Days that the law of failures, and that of first returns, leave out: not all is confirmed, or lodged, yet. */
  readonly confirmedAfterDays: number;
  readonly lodgedAfterDays: number;
}

/**
 * Answers: what would be foretold, were the returns that have been undecided for too long failures, and how many first returns
 * of any kind are to be expected? The first is fitted with them as failures on the days they were told: left as they are, they are
 * neither failures of the law nor packs in use. The second is what the workshop has to cope with; a pack that has been back once
 * is not in it.
 */
export function besideForecast(question: BesideQuestion): BesideForecast {
  const { group, cells, likes, running, runningWithoutReturn, reporting, confirmedAfterDays, lodgedAfterDays } =
    question;
  const longUndecided = countLongUndecided(cells, confirmedAfterDays);
  const taken = (some: readonly LifeCell[]) => takenAsFailures(some, confirmedAfterDays);
  return {
    group,
    longUndecided,
    ifFailures:
      longUndecided === 0
        ? null
        : forecastGroup(taken(cells), running, reporting, confirmedAfterDays, "confirmed", taken(likes)),
    returns: forecastGroup(cells, runningWithoutReturn, reporting, lodgedAfterDays, "any-return", likes),
    again:
      question.backInUse.length === 0
        ? null
        : forecastAgain(cells, question.backInUse, reporting, confirmedAfterDays, likes),
    cameBack: countComeBack(question.comeBack.filter((one) => one.group === group)),
  };
}

export function countComeBack(comeBack: readonly Omit<ComeBack, "group">[]): BesideForecast["cameBack"] {
  return {
    packs: comeBack.reduce((sum, { packs }) => sum + packs, 0),
    returns: comeBack.reduce((sum, { packs, returns }) => sum + packs * returns, 0),
  };
}

/** The failures foretold as things stand and were those returns failures, over the same groups. */
export interface BothTotals {
  readonly asTheyStand: ForecastTotal;
  readonly ifFailures: ForecastTotal;
}

/**
 * All groups of which something can be told in both cases: `leftOut` names the others, told in one case alone or not told though
 * such returns wait. Null where no group has such a return; `totals` null where of none both can be told.
 */
export function totalsIfFailures(
  forecasts: readonly (GroupForecast & { readonly group: string })[],
  beside: readonly BesideForecast[],
  horizon: Horizon,
): { readonly totals: BothTotals | null; readonly leftOut: readonly string[] } | null {
  if (beside.every(({ longUndecided }) => longUndecided === 0)) return null;
  const cases = forecasts.map((plain) => {
    const ifFailures = beside.find(({ group }) => group === plain.group)?.ifFailures ?? null;
    const taken = { ...(ifFailures ?? plain), group: plain.group };
    const isTold = countAt(plain, horizon) !== null && countAt(taken, horizon) !== null;
    return { plain, taken, isTold, isWaiting: ifFailures !== null };
  });
  const told = cases.filter(({ isTold }) => isTold);
  const asTheyStand = totalForecast(
    told.map(({ plain }) => plain),
    horizon,
  );
  const ifFailures = totalForecast(
    told.map(({ taken }) => taken),
    horizon,
  );
  const leftOut = cases.filter(({ isTold, isWaiting }) => isWaiting && !isTold).map(({ plain }) => plain.group);
  return { totals: asTheyStand === null || ifFailures === null ? null : { asTheyStand, ifFailures }, leftOut };
}

export function totalReturns(beside: readonly BesideForecast[], horizon: Horizon): ForecastTotal | null {
  return totalForecast(
    beside.map(({ group, returns }) => ({ ...returns, group })),
    horizon,
  );
}

/** What fails again of the packs put right of a group. */
export type ForetoldAgain = Pick<BesideForecast, "group" | "again">;

/** What fails again of packs put right, over all groups; null where of none it can be told. */
export function totalAgain(beside: readonly ForetoldAgain[], horizon: Horizon): ForecastTotal | null {
  return totalForecast(
    beside.flatMap(({ group, again }) => (again === null ? [] : [{ ...again, group }])),
    horizon,
  );
}

/**
 * What these will cost: each as a failure of its revision does, with the returns that come beside it. On top of what the forecast and the
 * reserve tell, and kept beside both. Null where of none failures and cost can be told.
 */
export function costAgain(
  beside: readonly ForetoldAgain[],
  costs: readonly { readonly group: string; readonly cost: CostForTotal }[],
  horizon: Horizon,
): CostTotal | null {
  const forecasts = beside.flatMap(({ group, again }) => {
    const cost = costs.find((one) => one.group === group)?.cost;
    return again === null || cost === undefined ? [] : [{ ...again, group, cost }];
  });
  return totalCost(forecasts, horizon);
}
