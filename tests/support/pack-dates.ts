import type { LifeDates } from "@/lib/reliability/exposure";
import type { UnitHistory } from "@/lib/reliability/first-event";
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
    replacedOn: null,
    coverEndsOn: null,
    ...changes,
  };
}

export function failedAfter(days: number): NonNullable<LifeDates["failure"]> {
  return { toldOn: afterSale(days), confirmed: true };
}

export function unitHistory(serial: string, changes: Partial<UnitHistory> = {}): UnitHistory {
  return { serial, revisionCode: "A", ...lifeDates(), ...changes };
}
