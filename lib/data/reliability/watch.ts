import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { CompareBy, ComparisonChoice } from "@/lib/reliability/compare-by";
import { compareAtOnce, type GlobalTest, type GroupEffect } from "@/lib/reliability/compare-strata";
import { type DelayTaken, delayTaken } from "@/lib/reliability/delay-csv";
import { attributesFor } from "@/lib/reliability/delay-places";
import type { GroupLags } from "@/lib/reliability/group-lags";
import { type GroupReport, groupReports } from "@/lib/reliability/group-report";
import { type IfFailures, ifFailures } from "@/lib/reliability/if-failures";
import { lifeTableBy, type SetApart } from "@/lib/reliability/joint-lives";
import type { LifeTable } from "@/lib/reliability/life-cell";
import { belongsTo, cellsOfGroups, groupsOf } from "@/lib/reliability/mixed-lots";
import { type NotExcluded, notExcluded } from "@/lib/reliability/not-excluded";
import type { Reporting } from "@/lib/reliability/reporting";
import { type LagEstimate, reportingOf, settledAfterDays } from "@/lib/reliability/reporting-lag";
import { type Explained, separateCauses } from "@/lib/reliability/separate-causes";
import { type ShrunkenRanking, shrunkenRanking } from "@/lib/reliability/shrunken-ranking";
import type { BuiltSpan, SignalledGroup } from "@/lib/reliability/since-sentences";
import { type UnknownStarts, unknownStarts } from "@/lib/reliability/unknown-start";
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
} from "@/lib/reliability/what-got-worse";
import type { LagWeightedCurve } from "@/lib/stats/lag-weighted-survival";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { asActor, type Transaction } from "../database";
import { readBuiltSpan } from "../packs/built-spans";
import { type CoverEnds, readCoverEnds } from "../warranty/cover-ends";
import { readStartsByGroup } from "./group-packs";
import { readJointLives } from "./life-cells";
import { readDelays } from "./reporting-lags";
import { readSignalledGroups, readSignalsSince } from "./signalled-groups";

export interface GroupLine extends GroupReport {
  readonly modelNames: readonly string[];
  /** Built today; for revisions only. */
  readonly current: boolean;
  readonly effect: GroupEffect | null;
}

/** A line as it leaves the house: with what packs without a known day of sale could change. */
export interface ExportedLine extends Omit<GroupLine, "lagCorrected"> {
  /** Null where the lag cannot be estimated: a file is read without the page that says so. */
  readonly lagCorrected: LagWeightedCurve | null;
  readonly unknownStarts: UnknownStarts | null;
  readonly ifFailures: IfFailures | null;
  readonly delay: DelayTaken;
}

export interface LeadingGroup extends Worse {
  /** Built today; for revisions only. */
  readonly current: boolean;
  /** When such packs were built; for revisions and lots. */
  readonly built: BuiltSpan | null;
}

export interface WatchPage {
  readonly dataDate: CalendarDate;
  readonly hasCoverRules: boolean;
  /** What fails more and is not explained by another of these; the surest first. */
  readonly leading: readonly LeadingGroup[];
  /** What is not shown to fail more once the packs it shares with one that leads are set apart. */
  readonly explained: readonly Explained[];
  /** What fails more even then, but is too many to be told one by one. */
  readonly further: readonly SetApart[];
  /** What the tests call and the delay alone could have made. */
  readonly hanging: readonly Hanging[];
  /** Groups of which an early signal was ever kept, whether they lead or not. */
  readonly signalled: readonly SignalledGroup[];
  /** Since when early signals are kept; null where nobody has looked yet. */
  readonly signalsSince: CalendarDate | null;
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

/**
 * What got worse, over revisions, lots and dealers at once, and the lines of the attribute chosen to be shown: one
 * aggregate for all of it; everything after works on its counts.
 */
export async function readWatch(
  actor: Actor,
  dataDate: CalendarDate,
  choice: ComparisonChoice,
): Promise<WatchPage | null> {
  if (!may(actor, "read-reliability")) return null;
  return asActor(actor, async (tx) => (await watchOn(tx, await readCoverEnds(tx, dataDate), choice)).page);
}

async function watchOn(
  tx: Transaction,
  ends: CoverEnds,
  choice: ComparisonChoice,
): Promise<{ page: WatchPage; table: LifeTable }> {
  const { dataDate } = ends;
  const attributes = [...new Set<CompareBy>([...watched, choice.by])];
  const question = { attributes: attributesFor(attributes), within: choice.within };
  const lives = await readJointLives(tx, ends, question);
  const { lag, places } = await readDelays(tx, dataDate);
  const reporting = reportingOf(lag);
  const waitedDays = settledAfterDays(lag);
  const reportingBy = (by: CompareBy) => places.of(by).reporting;
  const placeBy = (by: CompareBy) => places.of(by).placeOfLives;
  const tables = attributes.map((by): WatchedTable => {
    return { by, table: lifeTableBy(lives, by, [], placeBy(by)), reporting: reportingBy(by) };
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
  const revisions = await readRevisionFacts(tx);
  const builtToday = revisions.filter(({ supersededOn }) => supersededOn === null).map(({ code }) => code);
  const told: LeadingGroup[] = [];
  for (const worse of leading) {
    const { by, effect } = worse;
    const built = await readBuiltSpan(tx, { by, group: effect.group }, revisions);
    told.push({ ...worse, current: by === "revision" && builtToday.includes(effect.group), built });
  }
  const comparison = comparisons.find(({ by }) => by === choice.by)?.comparison;
  const table = tables.find(({ by }) => by === choice.by)?.table ?? { cells: [], excluded: [] };
  const page: WatchPage = {
    dataDate,
    hasCoverRules: ends.hasRules,
    leading: told,
    explained,
    further,
    hanging: hangingGroups(comparisons),
    signalled: await readSignalledGroups(tx),
    signalsSince: await readSignalsSince(tx),
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
  return { page, table };
}

export interface WatchExport {
  readonly page: WatchPage;
  readonly lines: readonly ExportedLine[];
}

/** The same for a file that leaves the house: asked for as an act of its own. */
export async function exportWatch(
  actor: Actor,
  dataDate: CalendarDate,
  choice: ComparisonChoice,
): Promise<WatchExport | null> {
  if (!may(actor, "read-reliability") || !may(actor, "export-reliability")) return null;
  return asActor(actor, async (tx) => {
    const ends = await readCoverEnds(tx, dataDate);
    const { page, table } = await watchOn(tx, ends, choice);
    const starts = [...(await readStartsByGroup(tx, ends, choice))];
    const cells = cellsOfGroups(table, table.cells);
    const lines = page.chosen.lines.map((line): ExportedLine => {
      const its = starts.flatMap(([own, known]) => (belongsTo(table, own, line.group) ? [known] : []));
      const undated = its.flatMap((known) => known.undated);
      const delays = its.flatMap((known) => known.delays);
      const lagCorrected = page.lag.kind === "no-lag" ? null : line.lagCorrected;
      const ifFailures = page.ifFailures.find(({ by, group }) => by === choice.by && group === line.group) ?? null;
      return {
        ...line,
        lagCorrected,
        ifFailures,
        delay: delayTaken(line.group, page.lag, page.delays, page.dealerDelays),
        unknownStarts: unknownStarts(cells.get(line.group) ?? [], undated, delays),
      };
    });
    return { page, lines };
  });
}

function linesOf(
  table: LifeTable,
  choice: ComparisonChoice,
  revisions: RevisionFacts,
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

type RevisionFacts = Awaited<ReturnType<typeof readRevisionFacts>>;

function readRevisionFacts(tx: Transaction) {
  return tx.revision.findMany({
    select: { code: true, introducedOn: true, supersededOn: true, model: { select: { code: true, name: true } } },
    orderBy: [{ model: { code: "asc" } }, { ordinal: "asc" }],
  });
}
