import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type EarlySignals, earlySignals } from "@/lib/reliability/early-signals";
import { lifeTableBy } from "@/lib/reliability/joint-lives";
import { knownAtOnce, type ReportingLag, reportingLag } from "@/lib/reliability/reporting-lag";
import { type WatchedTable, watched } from "@/lib/reliability/what-got-worse";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { readCoverEnds } from "./cover-ends";
import { asActor } from "./database";
import { readJointLives } from "./life-cells";
import { readConfirmationLags } from "./reporting-lags";

export interface SignalsPage {
  readonly signals: EarlySignals;
  readonly lag: ReportingLag | null;
}

/** Early signals of all groups watched on a day; null for whoever may not read failure rates. */
export async function readSignals(actor: Actor, dataDate: CalendarDate): Promise<SignalsPage | null> {
  if (!may(actor, "read-reliability")) return null;
  return asActor(actor, async (tx) => {
    const lives = await readJointLives(tx, await readCoverEnds(tx, dataDate), { attributes: watched, within: "model" });
    const lag = reportingLag(await readConfirmationLags(tx, dataDate));
    const tables = watched.map((by): WatchedTable => ({ by, table: lifeTableBy(lives, by) }));
    return { signals: earlySignals(tables, lag?.reporting ?? knownAtOnce), lag };
  });
}

/** The same for a file that leaves the house: asked for as an act of its own. */
export async function exportSignals(...asked: Parameters<typeof readSignals>): Promise<SignalsPage | null> {
  return may(asked[0], "export-reliability") ? readSignals(...asked) : null;
}
