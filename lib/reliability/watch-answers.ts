import type { CompareBy, ComparisonChoice } from "./compare-by";
import { compareAtOnce, type GlobalTest, type GroupEffect } from "./compare-strata";
import type { DelayPlaces } from "./delay-places";
import type { GroupLags } from "./group-lags";
import { type GroupReport, groupReports } from "./group-report";
import { type IfFailures, ifFailures } from "./if-failures";
import { type JointLives, lifeTableBy, type SetApart } from "./joint-lives";
import type { LifeTable } from "./life-cell";
import { groupsOf } from "./mixed-lots";
import { type NotExcluded, notExcluded } from "./not-excluded";
import type { Reporting } from "./reporting";
import { type LagEstimate, reportingOf, settledAfterDays } from "./reporting-lag";
import { type Explained, separateCauses } from "./separate-causes";
import { type ShrunkenRanking, shrunkenRanking } from "./shrunken-ranking";
import {
  allWorse,
  compareWatched,
  type Hanging,
  hangingGroups,
  isWatched,
  testedGroups,
  type WatchedTable,
  type Worse,
  watched,
} from "./what-got-worse";

export interface GroupLine extends GroupReport {
  readonly modelNames: readonly string[];
  /** Built today; for revisions only. */
  readonly current: boolean;
  readonly effect: GroupEffect | null;
}

/** A revision as far as the answers name it. */
export interface NamedRevision {
  readonly code: string;
  readonly supersededOn: Date | null;
  readonly model: { readonly code: string; readonly name: string };
}

/** All that the answers are computed from. */
export interface WatchFacts {
  readonly choice: ComparisonChoice;
  readonly lives: readonly JointLives[];
  readonly lag: LagEstimate;
  readonly places: DelayPlaces;
  /** Model by model, in the order in which they were introduced. */
  readonly revisions: readonly NamedRevision[];
}

export interface WatchAnswers {
  /** What fails more and is not explained by another of these; the surest first. */
  readonly leading: readonly (Worse & {
    /** Built today; for revisions only. */
    readonly current: boolean;
  })[];
  /** What is not shown to fail more once the packs it shares with one that leads are set apart. */
  readonly explained: readonly Explained[];
  /** What fails more even then, but is too many to be told one by one. */
  readonly further: readonly SetApart[];
  /** What the tests call and the delay alone could have made. */
  readonly hanging: readonly Hanging[];
  /** Where revisions are shown: what is built today, and up to how many times as often as its likes it may fail. */
  readonly notExcluded: readonly NotExcluded[];
  /** What the comparisons allow for, or why nothing. */
  readonly lag: LagEstimate;
  /** Delays of the groups shown, where they may have such of their own; else null. */
  readonly delays: GroupLags | null;
  /** Delays of dealers, whatever is shown: where they differ each pack is weighed by that of its own. */
  readonly dealerDelays: GroupLags;
  /** Returns undecided for so many days or more are allowed for by nothing: groups that have such, as if they were failures. */
  readonly waitedDays: number;
  readonly ifFailures: readonly IfFailures[];
  /** Groups tested on this page, over everything that is watched. */
  readonly tested: number;
  readonly chosen: {
    readonly choice: ComparisonChoice;
    readonly lines: readonly GroupLine[];
    readonly ranking: ShrunkenRanking;
    readonly global: GlobalTest | null;
  };
}

/** The attributes that have to be read for the answers. */
export function attributesOfWatch({ by }: ComparisonChoice): CompareBy[] {
  return [...new Set<CompareBy>([...watched, by])];
}

/**
 * Answers: what got worse, over revisions, lots and dealers at once, and what can be said of each group of the attribute chosen? With the
 * table of that attribute, for whoever needs its cells.
 */
export function watchAnswers({ choice, lives, lag, places, revisions }: WatchFacts): {
  readonly answers: WatchAnswers;
  readonly table: LifeTable;
} {
  const reporting = reportingOf(lag);
  const waitedDays = settledAfterDays(lag);
  const reportingBy = (by: CompareBy) => places.of(by).reporting;
  const placeBy = (by: CompareBy) => places.of(by).placeOfLives;
  const tables = attributesOfWatch(choice).map((by): WatchedTable => {
    // Of first returns only the lines of the attribute shown tell.
    const lines = by === choice.by ? undefined : (["confirmed"] as const);
    return { by, table: lifeTableBy(lives, by, [], placeBy(by), lines), reporting: reportingBy(by) };
  });
  const comparisons = compareWatched(tables, reporting, choice.by);
  const tested = comparisons
    .filter(({ by }) => isWatched(by))
    .reduce((sum, { comparison }) => sum + testedGroups(comparison), 0);
  const { leading, explained, further } = separateCauses(
    allWorse(tables, comparisons, reporting),
    lives,
    reportingBy,
    placeBy,
  );
  const builtToday = revisions.filter(({ supersededOn }) => supersededOn === null).map(({ code }) => code);
  const comparison = comparisons.find(({ by }) => by === choice.by)?.comparison;
  const table = tables.find(({ by }) => by === choice.by)?.table ?? { cells: [], excluded: [] };
  const answers: WatchAnswers = {
    leading: leading.map((worse) => {
      return { ...worse, current: worse.by === "revision" && builtToday.includes(worse.effect.group) };
    }),
    explained,
    further,
    hanging: hangingGroups(comparisons),
    notExcluded: choice.by === "revision" ? notExcluded(builtToday, comparison?.groups ?? []) : [],
    lag,
    delays: places.lagsOf(choice.by),
    dealerDelays: places.groupLags.dealer,
    waitedDays,
    ifFailures: ifFailures(tables, comparisons, reporting, waitedDays, (by) => by === choice.by),
    tested,
    chosen: {
      choice,
      global: compareAtOnce(table, reportingBy(choice.by)),
      ranking: shrunkenRanking(comparison?.groups ?? []),
      lines: linesOf(table, choice, revisions, comparison?.groups ?? [], reportingBy(choice.by)),
    },
  };
  return { answers, table };
}

function linesOf(
  table: LifeTable,
  choice: ComparisonChoice,
  revisions: readonly NamedRevision[],
  effects: readonly GroupEffect[],
  reporting: Reporting,
): GroupLine[] {
  const strataOf = new Map<string, Set<string>>();
  for (const { group: own, stratum } of [...table.cells, ...table.excluded]) {
    for (const group of groupsOf(table, own)) strataOf.set(group, (strataOf.get(group) ?? new Set()).add(stratum));
  }
  const names =
    choice.by === "revision"
      ? revisions.map(({ code }) => code)
      : [...strataOf.keys()].sort((a, b) => a.localeCompare(b, "en", { numeric: true }));
  return groupReports(choice.by, names, table, reporting).map((report) => {
    const revision = choice.by === "revision" ? revisions.find(({ code }) => code === report.group) : undefined;
    const models = [...(strataOf.get(report.group) ?? [])].map((stratum) => stratum.split(", ")[0] ?? stratum);
    const modelNames = revisions.flatMap(({ model }) => (models.includes(model.code) ? [model.name] : []));
    return {
      ...report,
      modelNames: revision === undefined ? [...new Set(modelNames)] : [revision.model.name],
      current: revision?.supersededOn === null,
      effect: effects.find(({ group }) => group === report.group) ?? null,
    };
  });
}
