import type { LifeDates } from "@/lib/reliability/exposure";
import type { GroupedHistory } from "@/lib/reliability/tally-lives";
import { type CalendarDate, calendarDate, plusDays } from "@/lib/warranty/calendar";

export const soldOn: CalendarDate = calendarDate("2024-01-10");

export function afterSale(days: number): CalendarDate {
  return plusDays(soldOn, days);
}

/** A pack sold on `soldOn`, watched from then on, sound, with 400 days behind it on the data date. */
export function lifeDates(changes: Partial<LifeDates> = {}): LifeDates {
  return {
    soldOn,
    underObservationFrom: null,
    dataDate: afterSale(400),
    failure: null,
    openReturnToldOn: null,
    firstReturn: null,
    withUs: [],
    outOfUseOn: null,
    replacedOn: null,
    coverEndsOn: null,
    ...changes,
  };
}

export function failedAfter(days: number): NonNullable<LifeDates["failure"]> {
  return { toldOn: afterSale(days), confirmed: true };
}

export function unitHistory(serial: string, changes: Partial<GroupedHistory> = {}): GroupedHistory {
  return {
    serial,
    group: "A",
    stratum: "M",
    dispatched: true,
    daysSinceDispatch: 410,
    faultFound: null,
    ...lifeDates(),
    ...changes,
  };
}

/** So many packs alike, each with a serial of its own. */
export function packsLike(packs: number, changes: Partial<GroupedHistory> = {}): GroupedHistory[] {
  const name = changes.group ?? "A";
  return Array.from({ length: packs }, (_, i) =>
    unitHistory(`${name}-${JSON.stringify(changes).length}-${i}`, changes),
  );
}
