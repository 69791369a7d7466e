import fc from "fast-check";
import { calendarDate } from "@/lib/warranty/calendar";

const DAY_MS = 86_400_000;

/** Any day from 2000 to 2099. */
export const anyDate = fc
  .integer({ min: 0, max: 36_524 })
  .map((day) => calendarDate(new Date(Date.UTC(2000, 0, 1) + day * DAY_MS).toISOString().slice(0, 10)));
