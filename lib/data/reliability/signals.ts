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

/** Early signals of all groups watched on a day; null for whoever may not read failure rates. */
export async function readSignals(actor: Actor, dataDate: CalendarDate): Promise<SignalsPage | null> {
  if (!may(actor, "read-reliability")) return null;
  return asActor(actor, async (tx) => {
    const { tables, signals, lag, dealerDelays } = await signalsOn(tx, dataDate);
    const waitedDays = settledAfterDays(lag);
    const ifFailures = signalsIfFailures(tables, signals, reportingOf(lag), waitedDays);
    return { signals, lag, dealerDelays, waitedDays, ifFailures, kept: await readKeptSignals(tx, signals.states) };
  });
}

/** The same for a file that leaves the house: asked for as an act of its own. */
export async function exportSignals(...asked: Parameters<typeof readSignals>): Promise<SignalsPage | null> {
  return may(asked[0], "export-reliability") ? readSignals(...asked) : null;
}

export async function signalsOn(tx: Transaction, dataDate: CalendarDate) {
  const lives = await readJointLives(tx, await readCoverEnds(tx, dataDate), {
    attributes: attributesFor(watched),
    within: "model",
  });
  const { lag, places } = await readDelays(tx, dataDate);
  const tables = watched.map((by): WatchedTable => {
    const { reporting, placeOfLives } = places.of(by);
    return { by, table: lifeTableBy(lives, by, [], placeOfLives), reporting };
  });
  const dealerDelays = places.groupLags.dealer;
  return { tables, signals: earlySignals(tables, reportingOf(lag)), lag, dealerDelays };
}

async function readKeptSignals(tx: Transaction, states: readonly WatchState[]): Promise<KeptSignal[]> {
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
  return rows.map(({ by: stored, fault: storedFault, round, ...row }) => {
    const by = comparedBy(stored);
    const fault = storedFault === "" ? null : storedFault;
    const now = states.find(
      (state) => state.by === by && state.group === row.group && state.stratum === row.stratum && state.fault === fault,
    );
    const { sharedOver } = round;
    const dataDate = fromDateColumn(round.dataDate);
    return { ...row, by, fault, dataDate, sharedOver, standsNow: now?.alarm ?? null };
  });
}
