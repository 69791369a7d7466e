import "server-only";
import { isOverdue } from "@/lib/receiving/quarantine";
import { overdueCall } from "@/lib/receiving/watch-calls";
import type { Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { neededHoursOf, watchedSelect, watchNow } from "./watched-arrival";

/** A pack that lies longer than its place allows: the service lead and the safety officer are told, once for each stay. */
export async function alarmOverdueStays(tx: Transaction, now: Date): Promise<number> {
  const stays = await tx.quarantineStay.findMany({
    where: { releasedAt: null },
    select: {
      id: true,
      placedAt: true,
      place: {
        select: { code: true, maxPacks: true, maxEnergyKwh: true, minimumHours: true, overdueAfterHours: true },
      },
      arrival: { select: { returnId: true, ...watchedSelect } },
    },
  });
  let alarms = 0;
  for (const { id, placedAt, place, arrival } of stays) {
    if (!isOverdue(place, neededHoursOf(arrival), placedAt, now)) continue;
    const occasion = `stay ${id}`;
    const { reference } = arrival.return;
    const isTold = await tx.notice.count({ where: { kind: "quarantine-overdue", key: { contains: occasion } } });
    if (isTold > 0) continue;
    for (const role of ["service-lead", "safety-officer"] as const) {
      await queueNotice(tx, {
        kind: "quarantine-overdue",
        reference,
        returnId: arrival.returnId,
        occasion,
        to: { role },
      });
    }
    alarms += 1;
  }
  return alarms;
}

/**
 * A measurement in quarantine that nobody takes: the bench is told, again and again, and the safety officer with it from the second
 * time on. One that came too late stays overdue until the watch is begun anew.
 */
export async function alarmOverdueMeasurements(tx: Transaction, now: Date): Promise<number> {
  const stays = await tx.quarantineStay.findMany({
    where: { releasedAt: null },
    select: { arrival: { select: { id: true, returnId: true, ...watchedSelect } } },
  });
  let alarms = 0;
  for (const { arrival } of stays) {
    const { startedAt, tasks } = watchNow(arrival, now);
    const due = overdueCall(tasks, now);
    if (due === null) continue;
    const about = {
      kind: "measurement-overdue",
      reference: arrival.return.reference,
      returnId: arrival.returnId,
      occasion: `arrival ${arrival.id} watch ${startedAt.toISOString()} after ${due.afterHours} h, call ${due.call}`,
    } as const;
    const bench = ["technician", "service-lead"] as const;
    let isNew = false;
    for (const role of due.isForSafety ? [...bench, "safety-officer" as const] : bench)
      isNew = (await queueNotice(tx, { ...about, to: { role } })) || isNew;
    alarms += isNew ? 1 : 0;
  }
  return alarms;
}
