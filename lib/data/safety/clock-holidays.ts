import "server-only";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { dateField } from "@/lib/returns/form-fields";
import { storableText } from "@/lib/returns/storable-text";
import { reportingClocks } from "@/lib/safety/reporting-clocks";
import type { HolidaysByClock } from "@/lib/safety/run-clocks";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { type DatedHolidays, holidaysInYear } from "@/lib/warranty/holiday-calendar";
import { fromDateColumn, toDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { breaksUnique } from "../unique-violation";
import { readHolidayCalendars } from "./holiday-calendars";
import { asSafetyOffice } from "./safety-office";

export const holidaySchema = z.object({
  clockId: z.string().refine((id) => reportingClocks.clocks.some((clock) => clock.id === id), "Choose the clock."),
  day: dateField("Give the day."),
  name: storableText({ least: 2, most: 80, tooShort: "Name the holiday.", tooLong: "At most 80 characters." }),
});
export type Holiday = z.output<typeof holidaySchema>;

/** The holidays of every clock, as the arithmetic wants them. */
export async function readHolidays(tx: Transaction): Promise<HolidaysByClock> {
  const rows = await tx.clockHoliday.findMany({ select: { clockId: true, day: true } });
  const byClock: Record<string, CalendarDate[]> = {};
  for (const { clockId, day } of rows) {
    const days = byClock[clockId] ?? [];
    days.push(fromDateColumn(day));
    byClock[clockId] = days;
  }
  return withCalendars(byClock, await readHolidayCalendars(tx));
}

/** Years around today in which a clock may run: a limit counts days or hours, never years. */
const YEARS_OF_CLOCKS = 2;

/** What a clock leaves out besides what was added by hand: the holidays of the one country it runs in. */
function withCalendars(byClock: Record<string, CalendarDate[]>, calendars: readonly DatedHolidays[]): HolidaysByClock {
  const thisYear = new Date().getUTCFullYear();
  const years = Array.from({ length: 2 * YEARS_OF_CLOCKS + 1 }, (_, index) => thisYear - YEARS_OF_CLOCKS + index);
  return Object.fromEntries(
    reportingClocks.clocks.map(({ id, countries: [country, ...more] }) => {
      const own = byClock[id] ?? [];
      if (country === undefined || more.length > 0) return [id, own];
      return [id, [...own, ...years.flatMap((year) => holidaysInYear(calendars, country, year))]];
    }),
  );
}

export interface HolidayView {
  readonly clockId: string;
  readonly day: CalendarDate;
  readonly name: string;
  readonly addedByName: string;
}

export async function listHolidays(actor: Actor): Promise<readonly HolidayView[]> {
  if (!may(actor, "read-incidents")) return [];
  const rows = await asActor(actor, (tx) =>
    tx.clockHoliday.findMany({
      select: { clockId: true, day: true, name: true, addedByName: true },
      orderBy: [{ day: "asc" }, { clockId: "asc" }],
    }),
  );
  return rows.map(({ day, ...rest }) => ({ ...rest, day: fromDateColumn(day) }));
}

/** Adds a public holiday that a clock leaves out. The same day twice is the same day. */
export async function addHoliday(actor: Actor, holiday: Holiday, now = new Date()): Promise<{ readonly ok: boolean }> {
  if (!may(actor, "keep-incident")) return { ok: false };
  try {
    await asSafetyOffice(actor, (tx) =>
      tx.clockHoliday.create({
        data: {
          ...holiday,
          day: toDateColumn(holiday.day),
          addedByUserId: actor.userId,
          addedByName: actor.name,
          addedAt: now,
        },
      }),
    );
  } catch (error) {
    if (!breaksUnique(error, "ClockHoliday_pkey")) throw error;
  }
  return { ok: true };
}
