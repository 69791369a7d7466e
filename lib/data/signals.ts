import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type EarlySignals, earlySignals } from "@/lib/reliability/early-signals";
import { knownAtOnce, type ReportingLag, reportingLag } from "@/lib/reliability/reporting-lag";
import { type WatchedTable, watched } from "@/lib/reliability/what-got-worse";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { asActor } from "./database";
import { readLifeTable } from "./life-cells";
import { readPolicies } from "./policy-columns";
import { readReportingLags } from "./reporting-lags";

export interface SignalsPage {
  readonly signals: EarlySignals;
  readonly lag: ReportingLag | null;
}

/** Early signals of all groups watched on a day; null for whoever may not read failure rates. */
export async function readSignals(actor: Actor, dataDate: CalendarDate): Promise<SignalsPage | null> {
  if (!may(actor, "read-reliability")) return null;
  return asActor(actor, async (tx) => {
    const policies = await readPolicies(tx);
    const lag = reportingLag(await readReportingLags(tx, dataDate));
    const tables: WatchedTable[] = [];
    for (const by of watched) {
      tables.push({ by, table: await readLifeTable(tx, { dataDate, by, within: "model" }, policies) });
    }
    return { signals: earlySignals(tables, lag?.reporting ?? knownAtOnce), lag };
  });
}
