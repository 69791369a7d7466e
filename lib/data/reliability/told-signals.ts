import "server-only";
import type { ToldSignal } from "@/lib/notices/say-signals";
import { readNameOfGroup } from "@/lib/reliability/group-name";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { fromDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";

/**
 * What a notice tells of the signals of a group that were kept on a day; of a notice from before it named its day, those of the first.
 * Signals are written once, so a letter that is tried again says the same. A RangeError where none was kept.
 */
export async function readToldSignals(
  tx: Transaction,
  reference: string,
  day: CalendarDate | null,
): Promise<{ readonly until: CalendarDate; readonly signals: readonly ToldSignal[] }> {
  const named = readNameOfGroup(reference);
  const rows = await tx.signalAlarm.findMany({
    where: { by: named?.by ?? "", group: named?.group ?? "" },
    select: { fault: true, observed: true, expected: true, round: { select: { dataDate: true } } },
    orderBy: [{ round: { dataDate: "asc" } }, { evidence: "desc" }],
  });
  const dated = rows.map(({ round, fault, observed, expected }) => {
    const told = { fault: fault === "" ? null : fault, observed, expected };
    return { on: fromDateColumn(round.dataDate), told };
  });
  const until = day ?? dated[0]?.on;
  const signals = dated.filter(({ on }) => on === until).map(({ told }) => told);
  if (until === undefined || signals.length === 0) throw new RangeError(`${reference}: no signal of it was kept then`);
  return { until, signals };
}
