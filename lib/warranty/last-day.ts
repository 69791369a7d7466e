import { UTCDate } from "@date-fns/utc";
import { isWeekend } from "date-fns";
import { type CalendarDate, plusDays } from "./calendar";
import { type HolidayRule, isHoliday } from "./holiday-rules";
import type { WarrantyPolicy } from "./policy.schema";

/**
 * The last day on which a complaint still counts: the end plus the days of grace and, where the policy says so, on to the
 * next day that is neither a Saturday, a Sunday nor a public holiday of the place of sale.
 * Source: Regulation (EEC, Euratom) No 1182/71, Art. 3(4); German Civil Code s. 193.
 */
export function lastDay(
  endsOn: CalendarDate,
  policy: Pick<WarrantyPolicy, "graceDays" | "weekendEnd">,
  holidays: readonly HolidayRule[] = [],
): CalendarDate {
  let day = plusDays(endsOn, policy.graceDays);
  if (policy.weekendEnd === "as-it-falls") return day;
  while (isWeekend(new UTCDate(`${day}T12:00:00Z`)) || isHoliday(day, holidays)) day = plusDays(day, 1);
  return day;
}
