import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { comparedBy } from "@/lib/reliability/compare-by";
import { attributesFor } from "@/lib/reliability/delay-places";
import { type EarlySignals, earlySignals, type WatchState } from "@/lib/reliability/early-signals";
import type { GroupLags } from "@/lib/reliability/group-lags";
import { type SignalIfFailures, signalsIfFailures } from "@/lib/reliability/if-failures";
import { lifeTableBy } from "@/lib/reliability/joint-lives";
import { type LagEstimate, reportingOf, settledAfterDays } from "@/lib/reliability/reporting-lag";
import { type WatchedTable, watched } from "@/lib/reliability/what-got-worse";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { fromDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { readCoverEnds } from "../warranty/cover-ends";
import { readJointLives } from "./life-cells";
import { readDelays } from "./reporting-lags";

/** A signal as it was when it first came. */
export interface KeptSignal
  extends Pick<
    WatchState,
    "by" | "group" | "stratum" | "fault" | "observed" | "expected" | "countedFromDays" | "countedUpToDays"
  > {
  readonly dataDate: CalendarDate;
  readonly signalRules: string;
  readonly sharedOver: number;
  /** Whether the numbers of the day asked about would give it again; null where it is not watched now. */
  readonly standsNow: boolean | null;
}

export interface SignalsPage {
  readonly signals: EarlySignals;
  readonly lag: LagEstimate;
  /** Delays of dealers, which packs are weighed by where they differ. */
  readonly dealerDelays: GroupLags;
  /** Returns undecided for so many days or more are allowed for by nothing: watches that have such, as if they were failures. */
  readonly waitedDays: number;
  readonly ifFailures: readonly SignalIfFailures[];
  /** All signals ever kept, the newest first. */
  readonly kept: readonly KeptSignal[];
}

/** Early signals of all groups watched on a day, computed when the transaction has ended; null for whoever may not read failure rates. */
export async function readSignals(actor: Actor, dataDate: CalendarDate): Promise<SignalsPage | null> {
  if (!may(actor, "read-reliability")) return null;
  const { kept, ...read } = await asActor(actor, async (tx) => {
    return { ...(await readForSignals(tx, dataDate)), kept: await readKeptSignals(tx) };
  });
  const { tables, signals } = signalsOf(read);
  const { lag, places } = read;
  const waitedDays = settledAfterDays(lag);
  return {
    ...{ signals, lag, dealerDelays: places.groupLags.dealer, waitedDays },
    ifFailures: signalsIfFailures(tables, signals, reportingOf(lag), waitedDays),
    kept: kept.map((one) => ({ ...one, standsNow: standsAmong(signals.states, one) })),
  };
}

/** The same for a file that leaves the house: asked for as an act of its own. */
export async function exportSignals(...asked: Parameters<typeof readSignals>): Promise<SignalsPage | null> {
  return may(asked[0], "export-reliability") ? readSignals(...asked) : null;
}

/** All that the signals of a day are computed from. */
export async function readForSignals(tx: Transaction, dataDate: CalendarDate) {
  const lives = await readJointLives(tx, await readCoverEnds(tx, dataDate), {
    attributes: attributesFor(watched),
    within: "model",
  });
  return { lives, ...(await readDelays(tx, dataDate)) };
}

export function signalsOf({ lives, lag, places }: Awaited<ReturnType<typeof readForSignals>>): {
  readonly tables: readonly WatchedTable[];
  readonly signals: EarlySignals;
} {
  const tables = watched.map((by): WatchedTable => {
    const { reporting, placeOfLives } = places.of(by);
    return { by, table: lifeTableBy(lives, by, [], placeOfLives), reporting };
  });
  return { tables, signals: earlySignals(tables, reportingOf(lag)) };
}

async function readKeptSignals(tx: Transaction): Promise<Omit<KeptSignal, "standsNow">[]> {
  const rows = await tx.signalAlarm.findMany({
    select: {
      by: true,
      group: true,
      stratum: true,
      fault: true,
      observed: true,
      expected: true,
      countedFromDays: true,
      countedUpToDays: true,
      signalRules: true,
      round: { select: { dataDate: true, sharedOver: true } },
    },
    orderBy: [{ round: { dataDate: "desc" } }, { evidence: "desc" }],
  });
  return rows.map(({ by, fault, round: { dataDate, sharedOver }, ...row }) => ({
    ...row,
    by: comparedBy(by),
    fault: fault === "" ? null : fault,
    dataDate: fromDateColumn(dataDate),
    sharedOver,
  }));
}

function standsAmong(states: readonly WatchState[], kept: Omit<KeptSignal, "standsNow">): boolean | null {
  const now = states.find(
    ({ by, group, stratum, fault }) =>
      by === kept.by && group === kept.group && stratum === kept.stratum && fault === kept.fault,
  );
  return now?.alarm ?? null;
}
