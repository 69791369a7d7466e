import { type CalendarDate, plusDays, plusMonths } from "./calendar";
import type { LeapDayRule } from "./policy.schema";

/**
 * The last day of a period of months, that day included.
 *
 * Method: the day of the event is not counted, so the period ends with the day of the same number; where the month has
 * no such day, with its last. All months are added at once to the date the period is counted from.
 * A start on 29 February ends on 28 February in a year without that day, or on 1 March where the policy says so.
 * Source: Regulation (EEC, Euratom) No 1182/71, Art. 3(1) and 3(2)(c); German Civil Code ss. 187(1), 188(2), 188(3).
 */
export function windowEnd(countedFrom: CalendarDate, months: number, leapDay: LeapDayRule): CalendarDate {
  const end = plusMonths(countedFrom, months);
  const lacksLeapDay = countedFrom.endsWith("-02-29") && end.endsWith("-02-28");
  return lacksLeapDay && leapDay === "march-1" ? plusDays(end, 1) : end;
}
