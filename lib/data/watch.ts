import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { CompareBy, ComparisonChoice } from "@/lib/reliability/compare-by";
import { compareStrata, type GroupEffect } from "@/lib/reliability/compare-strata";
import { type GroupReport, groupReports } from "@/lib/reliability/group-report";
import type { LifeTable } from "@/lib/reliability/life-cell";
import {
  allWorse,
  compareWatched,
  standsAlone,
  testedGroups,
  type WatchedTable,
  type Worse,
  watched,
} from "@/lib/reliability/what-got-worse";
import type { CalendarDate } from "@/lib/warranty/calendar";
import type { WarrantyPolicy } from "@/lib/warranty/policy.schema";
import { asActor, type Transaction } from "./database";
import { type LifeQuestion, readLifeTable } from "./life-cells";
import { readPolicies } from "./policy-columns";

export interface GroupLine extends GroupReport {
  readonly modelNames: readonly string[];
  /** Built today; for revisions only. */
  readonly current: boolean;
  readonly effect: GroupEffect | null;
}

export interface GroupName {
  readonly by: CompareBy;
  readonly group: string;
}

export interface WatchPage {
  readonly dataDate: CalendarDate;
  /** What fails more and is not explained by another of these; the surest first. */
  readonly leading: readonly (Worse & { readonly current: boolean })[];
  /** What fails more only because it shares packs with one that leads. */
  readonly explained: readonly GroupName[];
  /** Groups tested on this page, over everything that is watched. */
  readonly tested: number;
  readonly chosen: {
    readonly choice: ComparisonChoice;
    readonly lines: readonly GroupLine[];
    readonly global: { readonly chiSquare: number; readonly degreesOfFreedom: number; readonly p: number } | null;
  };
}

/** More findings than a page of answers can hold; what follows stands in the tables. Engineering default, no authority. */
const MOST_LEADING = 4;

/**
 * What got worse, over revisions, lots and dealers at once, and the lines of the attribute chosen to be shown. One
 * aggregate for each attribute; everything after works on their counts.
 */
export async function readWatch(
  actor: Actor,
  dataDate: CalendarDate,
  choice: ComparisonChoice,
): Promise<WatchPage | null> {
  if (!may(actor, "read-reliability")) return null;
  return asActor(actor, async (tx) => {
    const policies = await readPolicies(tx);
    const tables: WatchedTable[] = [];
    for (const by of new Set<CompareBy>([...watched, choice.by])) {
      tables.push({ by, table: await readLifeTable(tx, { dataDate, by, within: choice.within }, policies) });
    }
    const comparisons = compareWatched(tables);
    const tested = comparisons.reduce((sum, { comparison }) => sum + testedGroups(comparison), 0);
    const { leading, explained } = await separate(tx, allWorse(tables, comparisons), { dataDate, policies, choice });
    const revisions = await readRevisionFacts(tx);
    const isCurrent = ({ by, group }: GroupName) =>
      by === "revision" && revisions.some(({ code, supersededOn }) => code === group && supersededOn === null);
    const comparison = comparisons.find(({ by }) => by === choice.by)?.comparison;
    const table = tables.find(({ by }) => by === choice.by)?.table ?? { cells: [], excluded: [] };
    return {
      dataDate,
      leading: leading.map((worse) => ({ ...worse, current: isCurrent({ by: worse.by, group: worse.effect.group }) })),
      explained,
      tested,
      chosen: {
        choice,
        global: comparison?.global ?? null,
        lines: linesOf(table, choice, revisions, comparison?.groups ?? []),
      },
    };
  });
}

/** The same for a file that leaves the house: asked for as an act of its own. */
export async function exportWatch(...asked: Parameters<typeof readWatch>): Promise<WatchPage | null> {
  return may(asked[0], "export-reliability") ? readWatch(...asked) : null;
}

function linesOf(
  table: LifeTable,
  choice: ComparisonChoice,
  revisions: RevisionFacts,
  effects: readonly GroupEffect[],
): GroupLine[] {
  const strataOf = new Map<string, Set<string>>();
  for (const { group, stratum } of [...table.cells, ...table.excluded]) {
    strataOf.set(group, (strataOf.get(group) ?? new Set()).add(stratum));
  }
  const names =
    choice.by === "revision"
      ? revisions.map(({ code }) => code)
      : [...strataOf.keys()].sort((a, b) => a.localeCompare(b, "en", { numeric: true }));
  return groupReports(names, table).map((report) => {
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
    select: { code: true, supersededOn: true, model: { select: { code: true, name: true } } },
    orderBy: [{ model: { code: "asc" } }, { ordinal: "asc" }],
  });
}

interface Context {
  readonly dataDate: CalendarDate;
  readonly policies: readonly WarrantyPolicy[];
  readonly choice: ComparisonChoice;
}

/**
 * Packs of one lot are also packs of a revision, of a joining job and of a board lot of the same weeks, so one cause
 * raises several groups. The surest leads; what remains is compared again with the leader's packs set apart as strata of
 * their own, and so on.
 */
async function separate(
  tx: Transaction,
  all: readonly Worse[],
  { dataDate, policies, choice }: Context,
): Promise<{ leading: Worse[]; explained: GroupName[] }> {
  const leading: Worse[] = [];
  const explained: GroupName[] = [];
  let remaining = [...all];
  while (leading.length < MOST_LEADING) {
    const [surest, ...others] = remaining;
    if (surest === undefined) break;
    leading.push(surest);
    const apart = leading.map(({ by, effect }) => ({ by, group: effect.group }));
    remaining = [];
    for (const by of new Set(others.map((worse) => worse.by))) {
      const question: LifeQuestion = { dataDate, by, within: choice.within, apart };
      const setApart = compareStrata(await readLifeTable(tx, question, policies));
      for (const worse of others.filter((one) => one.by === by)) {
        if (standsAlone(worse.effect.group, setApart)) remaining.push(worse);
        else explained.push({ by, group: worse.effect.group });
      }
    }
    remaining.sort((a, b) => (a.effect.p ?? 1) - (b.effect.p ?? 1));
  }
  return { leading, explained };
}
