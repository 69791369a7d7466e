import "server-only";
import { comparedBy } from "@/lib/reliability/compare-by";
import { SIGNAL_RULES_VERSION } from "@/lib/reliability/rule-version";
import type { SignalledGroup } from "@/lib/reliability/since-sentences";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";

/** The first day that was looked at for early signals; null before the first look. */
export async function readSignalsSince(tx: Transaction): Promise<CalendarDate | null> {
  const { _min } = await tx.signalRound.aggregate({ _min: { dataDate: true } });
  return fromOptionalDateColumn(_min.dataDate);
}

/** The groups of which an early signal was ever kept, the newest first; of each the day of its first signal. */
export async function readSignalledGroups(tx: Transaction): Promise<SignalledGroup[]> {
  const rows = await tx.signalAlarm.findMany({
    select: { by: true, group: true, signalRules: true, round: { select: { dataDate: true } } },
    orderBy: { round: { dataDate: "desc" } },
  });
  const found = new Map<string, SignalledGroup>();
  for (const { by, group, signalRules, round } of rows) {
    const key = JSON.stringify([by, group]);
    const byRulesOfToday = found.get(key)?.byRulesOfToday === true || signalRules === SIGNAL_RULES_VERSION;
    found.set(key, { by: comparedBy(by), group, firstOn: fromDateColumn(round.dataDate), byRulesOfToday });
  }
  return [...found.values()];
}
