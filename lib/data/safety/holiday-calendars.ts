import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type ProposalRefusal, proposalSentences, type Verdict } from "@/lib/access/two-people";
import type { CalendarDate } from "@/lib/warranty/calendar";
import {
  type DatedHolidays,
  type HolidayList,
  type HolidayProposal,
  holidayListSchema,
} from "@/lib/warranty/holiday-calendar";
import { fromDateColumn, toDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import {
  firstDayIsOver,
  keepProposal,
  peopleSelect,
  proposedBy,
  settleProposal,
  type TwoPeople,
  twoPeople,
} from "../two-people";

export interface HolidayCalendarView extends TwoPeople {
  readonly version: string;
  readonly country: string;
  readonly validFrom: CalendarDate;
  readonly holidays: HolidayList;
}

export type HolidayAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: ProposalRefusal; readonly sentence: string };

const sentences = proposalSentences({
  thing: "version",
  whose: "the service lead, managers and the safety officer",
  another: "another person",
  notPast: "a period that has ended keeps the days it was counted by.",
});
const refuse = (reason: ProposalRefusal): HolidayAnswer => ({ ok: false, reason, sentence: sentences[reason] });

const select = { version: true, country: true, validFrom: true, holidays: true } as const;

/** The approved calendars of every country: proposals count for nothing. */
export async function readHolidayCalendars(tx: Transaction): Promise<DatedHolidays[]> {
  const rows = await tx.holidayCalendar.findMany({ where: { state: "approved" }, select });
  return rows.map(({ country, validFrom, holidays }) => ({
    country,
    validFrom: fromDateColumn(validFrom),
    holidays: holidayListSchema.parse(holidays),
  }));
}

/** By country, how its holidays are written in the calendar that holds on a day. */
export async function readHolidaysOn(tx: Transaction, on: CalendarDate): Promise<ReadonlyMap<string, string[]>> {
  const rows = await tx.holidayCalendar.findMany({
    where: { state: "approved", validFrom: { lte: toDateColumn(on) } },
    orderBy: { validFrom: "asc" },
    select: { country: true, holidays: true },
  });
  return new Map(rows.map(({ country, holidays }) => [country, written(holidays)]));
}

function written(holidays: unknown): string[] {
  return holidayListSchema.parse(holidays).map(({ rule }) => rule);
}

/** How the holidays of a country are written in the calendar that holds on a day; none where none is held. */
export async function readHolidayRules(
  tx: Transaction,
  country: string | undefined,
  on: CalendarDate,
): Promise<string[]> {
  if (country === undefined) return [];
  const row = await tx.holidayCalendar.findFirst({
    where: { state: "approved", country, validFrom: { lte: toDateColumn(on) } },
    orderBy: { validFrom: "desc" },
    select: { holidays: true },
  });
  return row === null ? [] : written(row.holidays);
}

/** Every calendar by country, the newest first; null where the person may not ask. */
export async function listHolidayCalendars(actor: Actor): Promise<HolidayCalendarView[] | null> {
  if (!may(actor, "read-incidents")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.holidayCalendar.findMany({
      select: { ...select, ...peopleSelect },
      orderBy: [{ country: "asc" }, { validFrom: "desc" }],
    }),
  );
  return rows.map((row) => ({
    version: row.version,
    country: row.country,
    validFrom: fromDateColumn(row.validFrom),
    holidays: holidayListSchema.parse(row.holidays),
    ...twoPeople(actor, row),
  }));
}

/** Proposes the holidays of a country from a day on; they count once another person has approved them. */
export async function proposeHolidays(
  actor: Actor,
  proposal: HolidayProposal,
  now = new Date(),
): Promise<HolidayAnswer> {
  if (!may(actor, "propose-holidays")) return refuse("not-allowed");
  const { version, country, validFrom, holidays, why } = proposal;
  const refused = await keepProposal(actor, validFrom, now, (tx) =>
    tx.holidayCalendar.create({
      data: { version, country, validFrom: toDateColumn(validFrom), holidays, why, ...proposedBy(actor, now) },
      select: { id: true },
    }),
  );
  return refused === null ? { ok: true } : refuse(refused);
}

export async function settleHolidays(
  actor: Actor,
  version: string,
  verdict: Verdict,
  now = new Date(),
): Promise<HolidayAnswer> {
  if (!may(actor, "approve-holidays")) return refuse("not-allowed");
  const answer = await settleProposal(actor, {
    verdict,
    now,
    find: (tx) => tx.holidayCalendar.findUnique({ where: { version } }),
    whyNotApproved: (row) => firstDayIsOver(row, now),
    save: (tx, _row, columns) =>
      tx.holidayCalendar.updateMany({ where: { version, state: "proposed" }, data: columns }),
    dayIndex: "HolidayCalendar_one_approved_a_day",
  });
  return answer.ok ? answer : refuse(answer.reason);
}
