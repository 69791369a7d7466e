import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { comparedBy } from "@/lib/reliability/compare-by";
import type { WatchState } from "@/lib/reliability/early-signals";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { fromDateColumn } from "../calendar-columns";
import { asActor } from "../database";
import { readSignalsSince } from "./signalled-groups";

/** The first signal of a group for a fault, as it was on the day it came. */
export interface FirstSignal extends Pick<WatchState, "by" | "group" | "fault" | "observed" | "expected" | "baseline"> {
  readonly firstOn: CalendarDate;
}

export interface FirstSignals {
  /** The first day that was looked at; null where nobody has looked yet. */
  readonly since: CalendarDate | null;
  /** The newest first. */
  readonly signals: readonly FirstSignal[];
}

/**
 * Early signals as they were kept, without the rates behind them; null for whoever is not told of them. Of a group and fault the first
 * one: new rules that keep it anew are no news.
 */
export async function listFirstSignals(actor: Actor): Promise<FirstSignals | null> {
  if (!may(actor, "read-signals")) return null;
  return asActor(actor, async (tx) => {
    const rows = await tx.signalAlarm.findMany({
      select: {
        by: true,
        group: true,
        fault: true,
        observed: true,
        expected: true,
        baseline: true,
        round: { select: { dataDate: true } },
      },
      orderBy: [{ round: { dataDate: "asc" } }, { evidence: "desc" }],
    });
    const first = new Map<string, FirstSignal>();
    for (const { by, group, fault, round, ...numbers } of rows) {
      const key = JSON.stringify([by, group, fault]);
      if (first.has(key)) continue;
      const named = { by: comparedBy(by), group, fault: fault === "" ? null : fault };
      first.set(key, { ...named, ...numbers, firstOn: fromDateColumn(round.dataDate) });
    }
    return { since: await readSignalsSince(tx), signals: [...first.values()].reverse() };
  });
}
