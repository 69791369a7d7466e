import "server-only";
import { type CalendarDate, calendarDate } from "@/lib/warranty/calendar";

/** A DATE column arrives as midnight UTC of that day; nothing else of the instant means anything. */
export function fromDateColumn(column: Date): CalendarDate {
  return calendarDate(column.toISOString().slice(0, 10));
}

export function toDateColumn(date: CalendarDate): Date {
  return new Date(`${date}T00:00:00Z`);
}

export function fromOptionalDateColumn(column: Date | null): CalendarDate | null {
  return column === null ? null : fromDateColumn(column);
}

export function toOptionalDateColumn(date: CalendarDate | null): Date | null {
  return date === null ? null : toDateColumn(date);
}
