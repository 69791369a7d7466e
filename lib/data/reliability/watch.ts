import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { ComparisonChoice } from "@/lib/reliability/compare-by";
import { type DelayTaken, delayTaken } from "@/lib/reliability/delay-csv";
import { attributesFor } from "@/lib/reliability/delay-places";
import type { IfFailures } from "@/lib/reliability/if-failures";
import { belongsTo, cellsOfGroups } from "@/lib/reliability/mixed-lots";
import type { BuiltSpan, SignalledGroup } from "@/lib/reliability/since-sentences";
import { type UnknownStarts, unknownStarts } from "@/lib/reliability/unknown-start";
import {
  attributesOfWatch,
  type GroupLine,
  type WatchAnswers,
  type WatchFacts,
  watchAnswers,
} from "@/lib/reliability/watch-answers";
import type { LagWeightedCurve } from "@/lib/stats/lag-weighted-survival";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { asActor, type Transaction } from "../database";
import { type RevisionDays, readBuiltSpan } from "../packs/built-spans";
import { type CoverEnds, readCoverEnds } from "../warranty/cover-ends";
import { readStartsByGroup } from "./group-packs";
import { readJointLives } from "./life-cells";
import { readDelays } from "./reporting-lags";
import { readSignalledGroups, readSignalsSince } from "./signalled-groups";

/** A line as it leaves the house: with what packs without a known day of sale could change. */
export interface ExportedLine extends Omit<GroupLine, "lagCorrected"> {
  /** Null where the lag cannot be estimated: a file is read without the page that says so. */
  readonly lagCorrected: LagWeightedCurve | null;
  readonly unknownStarts: UnknownStarts | null;
  readonly ifFailures: IfFailures | null;
  readonly delay: DelayTaken;
}

export type LeadingGroup = WatchAnswers["leading"][number] & {
  /** When such packs were built; for revisions and lots. */
  readonly built: BuiltSpan | null;
};

export interface WatchPage extends WatchAnswers {
  readonly dataDate: CalendarDate;
  readonly hasCoverRules: boolean;
  readonly leading: readonly LeadingGroup[];
  /** Groups of which an early signal was ever kept, whether they lead or not. */
  readonly signalled: readonly SignalledGroup[];
  /** Since when early signals are kept; null where nobody has looked yet. */
  readonly signalsSince: CalendarDate | null;
}

/**
 * What got worse, over revisions, lots and dealers at once, and the lines of the attribute chosen to be shown: one
 * aggregate for all of it. What follows works on its counts, when the transaction has ended: nobody waits for a database that is not asked.
 */
export async function readWatch(
  actor: Actor,
  dataDate: CalendarDate,
  choice: ComparisonChoice,
): Promise<WatchPage | null> {
  if (!may(actor, "read-reliability")) return null;
  const read = await asActor(actor, async (tx) => readForWatch(tx, await readCoverEnds(tx, dataDate), choice));
  return pageOf(actor, read, watchAnswers(read).answers);
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
  const { starts, ...read } = await asActor(actor, async (tx) => {
    const ends = await readCoverEnds(tx, dataDate);
    return { ...(await readForWatch(tx, ends, choice)), starts: [...(await readStartsByGroup(tx, ends, choice))] };
  });
  const { answers, table } = watchAnswers(read);
  const page = await pageOf(actor, read, answers);
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
}

/** All that a page of all groups needs but for what only its answers ask for. */
interface ReadForWatch
  extends WatchFacts,
    Pick<WatchPage, "dataDate" | "hasCoverRules" | "signalled" | "signalsSince"> {
  readonly revisions: Awaited<ReturnType<typeof readRevisionFacts>>;
}

async function readForWatch(tx: Transaction, ends: CoverEnds, choice: ComparisonChoice): Promise<ReadForWatch> {
  const question = { attributes: attributesFor(attributesOfWatch(choice)), within: choice.within };
  return {
    dataDate: ends.dataDate,
    hasCoverRules: ends.hasRules,
    choice,
    lives: await readJointLives(tx, ends, question),
    ...(await readDelays(tx, ends.dataDate)),
    revisions: await readRevisionFacts(tx),
    signalled: await readSignalledGroups(tx),
    signalsSince: await readSignalsSince(tx),
  };
}

async function pageOf(actor: Actor, read: ReadForWatch, answers: WatchAnswers): Promise<WatchPage> {
  const { dataDate, hasCoverRules, signalled, signalsSince } = read;
  const leading = await withBuiltSpans(actor, answers.leading, read.revisions);
  return { ...answers, dataDate, hasCoverRules, signalled, signalsSince, leading };
}

/** Only of what leads is it asked when it was built: that is known last, and for a few groups asked quickly. */
async function withBuiltSpans(
  actor: Actor,
  leading: WatchAnswers["leading"],
  revisions: readonly RevisionDays[],
): Promise<LeadingGroup[]> {
  if (leading.length === 0) return [];
  return asActor(actor, async (tx) => {
    const told: LeadingGroup[] = [];
    for (const worse of leading) {
      const built = await readBuiltSpan(tx, { by: worse.by, group: worse.effect.group }, revisions);
      told.push({ ...worse, built });
    }
    return told;
  });
}

function readRevisionFacts(tx: Transaction) {
  return tx.revision.findMany({
    select: { code: true, introducedOn: true, supersededOn: true, model: { select: { code: true, name: true } } },
    orderBy: [{ model: { code: "asc" } }, { ordinal: "asc" }],
  });
}
