import type { CalendarDate } from "./calendar";

const MONTHS = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
] as const;

/** The name of a month, 1 for January. */
export function monthName(month: number): string {
  return MONTHS[month - 1] ?? "";
}

/** A date as a sentence says it, the month in words so that no reader can swap day and month: 5 March 2026. */
export function sayDate(date: CalendarDate): string {
  const [year, month, day] = date.split("-").map(Number);
  return `${day} ${monthName(month ?? 1)} ${year}`;
}

/** "1 day", "3 days". */
export function sayDays(days: number): string {
  return days === 1 ? "1 day" : `${days} days`;
}

/** "1 month", "24 months". */
export function sayMonths(months: number): string {
  return months === 1 ? "1 month" : `${months} months`;
}
