import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import type { CompareBy } from "./compare-by";
import { cellsOfOthers, compareFamily, type GroupEffect } from "./compare-strata";
import type { DelayPlaces } from "./delay-places";
import { type GroupLags, waitedDaysFor } from "./group-lags";
import { type GroupLife, groupLife } from "./group-life";
import { type GroupReport, groupReport } from "./group-report";
import { type IfFailures, ifFailures } from "./if-failures";
import { cellsOfGroup, type LifeTable } from "./life-cell";
import { type PlaceHistory, type RepeatReturns, repeatReturns } from "./repeat-returns";
import type { LagEstimate } from "./reporting-lag";
import { type UndatedPacks, type UnknownStarts, unknownStarts } from "./unknown-start";
import { testedGroups } from "./what-got-worse";

/** All that the answers about one group are computed from. */
export interface GroupFacts {
  readonly by: CompareBy;
  readonly group: string;
  /** Lives of all groups of the attribute, each weighed by the delay of its place. */
  readonly table: LifeTable;
  readonly lag: LagEstimate;
  readonly places: DelayPlaces;
  /** Packs of the group without a day of sale, and how long after dispatch the others were sold. */
  readonly undated: readonly UndatedPacks[];
  readonly shelfDelays: readonly TruncatedLag[];
  /** Customers whose first pack was of the group, with its model. */
  readonly customers: readonly (PlaceHistory & { readonly stratum: string })[];
}

export interface GroupAnswers {
  readonly line: GroupReport;
  /** The group against the others of its models, and how many groups were tested with it. */
  readonly effect: GroupEffect | null;
  readonly tested: number;
  /** Returns undecided for so many days or more are allowed for by nothing; the group as if its were failures, null where it has none. */
  readonly waitedDays: number;
  readonly ifFailures: IfFailures | null;
  readonly life: GroupLife;
  /** Where its packs are of several models, each of them by itself; else empty. */
  readonly byModel: readonly ModelOfGroup[];
  readonly lag: LagEstimate;
  /** Delays of the groups of its attribute, where they may have such of their own; else null. */
  readonly delays: GroupLags | null;
  /** Delays of dealers, whatever the group is. */
  readonly dealerDelays: GroupLags;
  /** What packs without a known day of sale could change; null where there is none. */
  readonly unknownStarts: UnknownStarts | null;
  readonly repeats: RepeatReturns;
}

/** The packs of a group that are of one model. */
export interface ModelOfGroup {
  readonly model: string;
  readonly line: GroupReport;
  readonly life: GroupLife;
  /** Of customers whose first pack was of the model. */
  readonly repeats: RepeatReturns;
}

/** Models of a group that has a life, or a pack without one. */
export function modelsOfGroup(table: LifeTable, group: string): string[] {
  const { cells, excluded } = cellsOfGroup(table, group);
  return [...new Set([...cells, ...excluded].map(({ stratum }) => stratum))];
}

/** Answers: what can be said of one group? Its share failed, against the others of its models, by which law, and each model by itself. */
export function groupAnswers(facts: GroupFacts): GroupAnswers {
  const { by, group, table, lag, places, customers } = facts;
  const delays = places.lagsOf(by);
  const { reporting } = places.of(by);
  const { cells: own, excluded } = cellsOfGroup(table, group);
  const strata = modelsOfGroup(table, group);
  const likes = cellsOfOthers(table, { group, strata });
  const isIt = (effect: GroupEffect) => effect.group === group;
  const comparison = compareFamily(table, reporting, () => isIt);
  const waitedDays = waitedDaysFor(group, lag, delays);
  const asFailures = ifFailures(
    [{ by, table }],
    [{ by, comparison }],
    reporting,
    waitedDays,
    (_, asked) => asked === group,
    (told) => told === group,
  );
  return {
    line: groupReport(by, group, { cells: own, excluded }, reporting),
    effect: comparison.groups.find(isIt) ?? null,
    tested: testedGroups(comparison),
    waitedDays,
    ifFailures: asFailures.find((one) => one.group === group) ?? null,
    life: groupLife(own, likes, reporting, waitedDays),
    byModel:
      strata.length < 2
        ? []
        : [...strata].sort().map((model): ModelOfGroup => {
            const ofIt = <C extends { readonly stratum: string }>(some: readonly C[]) =>
              some.filter(({ stratum }) => stratum === model);
            const its = { cells: ofIt(own), excluded: ofIt(excluded) };
            return {
              model,
              line: groupReport(by, model, its, reporting),
              life: groupLife(its.cells, ofIt(likes), reporting, waitedDays),
              repeats: repeatReturns(ofIt(customers)),
            };
          }),
    lag,
    delays,
    dealerDelays: places.groupLags.dealer,
    unknownStarts: unknownStarts(own, facts.undated, facts.shelfDelays),
    repeats: repeatReturns(customers),
  };
}
