import { UTCDate } from "@date-fns/utc";
import { isSaturday, isSunday } from "date-fns";
import { type CalendarDate, plusDays } from "./calendar";
import type { WarrantyPolicy } from "./policy.schema";

/**
 * The last day on which a complaint still counts: the end plus the days of grace and, where the policy says so, on to
 * Monday from a Saturday or a Sunday. Public holidays differ from place to place and are not held here.
 * Source of the weekend rule: Regulation (EEC, Euratom) No 1182/71, Art. 3(4); German Civil Code s. 193.
 */
export function lastDay(endsOn: CalendarDate, policy: Pick<WarrantyPolicy, "graceDays" | "weekendEnd">): CalendarDate {
  const withGrace = plusDays(endsOn, policy.graceDays);
  return policy.weekendEnd === "next-working-day" ? workingDayFrom(withGrace) : withGrace;
}

function workingDayFrom(date: CalendarDate): CalendarDate {
  const noon = new UTCDate(`${date}T12:00:00Z`);
  if (isSaturday(noon)) return plusDays(date, 2);
  return isSunday(noon) ? plusDays(date, 1) : date;
}
