import { z } from "zod";
import { whyProposed } from "@/lib/access/why-proposed.schema";
import { readSourced, writeSourced } from "@/lib/transport/rule-text";
import { sourcedTextSchema } from "@/lib/transport/sourced-text";
import { type CalendarDate, compareDates } from "./calendar";
import { dateText } from "./date-text";
import { type HolidayRule, holidayIn, isHoliday, readHolidayRule } from "./holiday-rules";

/** The public holidays of a country from a day on, each with its rule and where it was taken from. */
export const holidayListSchema = z.array(
  z.object({ rule: z.string().refine((written) => readHolidayRule(written) !== null), name: sourcedTextSchema }),
);
export type HolidayList = z.output<typeof holidayListSchema>;

export interface DatedHolidays {
  readonly country: string;
  readonly validFrom: CalendarDate;
  readonly holidays: HolidayList;
}

/** The rules that hold in a country on a day: the latest calendar that has begun; none where no calendar is held. */
function holidayRulesOn(
  calendars: readonly DatedHolidays[],
  country: string,
  date: CalendarDate,
): readonly HolidayRule[] {
  const begun = calendars.filter((one) => one.country === country && compareDates(one.validFrom, date) <= 0);
  const latest = begun.reduce<DatedHolidays | null>(
    (best, one) => (best === null || compareDates(best.validFrom, one.validFrom) < 0 ? one : best),
    null,
  );
  return (latest?.holidays ?? []).flatMap(({ rule }) => readHolidayRule(rule) ?? []);
}

/** The public holidays of a country in a year, each by the calendar that held on that very day. */
export function holidaysInYear(calendars: readonly DatedHolidays[], country: string, year: number): CalendarDate[] {
  const ofCountry = calendars.filter((one) => one.country === country);
  const days = ofCountry.flatMap(({ holidays }) =>
    holidays.flatMap(({ rule }) => {
      const read = readHolidayRule(rule);
      return read === null ? [] : (holidayIn(read, year) ?? []);
    }),
  );
  return [...new Set(days)].filter((day) => isHoliday(day, holidayRulesOn(ofCountry, country, day))).sort();
}

/** One holiday a line, as the form shows it: `12-25 Christmas Day [from memory: verify in …]`. */
export function writeHolidays(holidays: HolidayList): string {
  return holidays.map(({ rule, name }) => `${rule}: ${writeSourced(name)}`).join("\n");
}

const lineProblem = (line: number, why: string) => `Line ${line}: ${why}`;

const linesSchema = z.string().transform((typed, context) => {
  const holidays: HolidayList = [];
  for (const [index, line] of typed.replaceAll("\r\n", "\n").split("\n").entries()) {
    if (line.trim() === "") continue;
    const colon = line.indexOf(":");
    const rule = line.slice(0, colon).trim().toLowerCase();
    const name = readSourced(line.slice(colon + 1));
    if (colon < 0 || readHolidayRule(rule) === null) {
      const why = "write the day first, then a colon: 12-25, easter+1, third monday 01 or 2026-10-03.";
      context.addIssue({ code: "custom", message: lineProblem(index + 1, why) });
    } else if (name.kind === "unmarked") {
      const why = "end it with where it comes from, for example [from memory: verify in the law on holidays].";
      context.addIssue({ code: "custom", message: lineProblem(index + 1, why) });
    } else holidays.push({ rule, name: name.sentence });
  }
  return holidays;
});

/** A proposed calendar as the form sends it; one schema for form and server. */
export const holidayProposalSchema = z.object({
  version: z
    .string()
    .trim()
    .regex(/^[0-9A-Za-z][0-9A-Za-z .-]{1,38}$/, "A short name such as DE-2027."),
  country: z
    .string()
    .trim()
    .toUpperCase()
    .regex(/^[A-Z]{2}$/, "The country as two letters, for example DE."),
  validFrom: dateText("The first day"),
  holidays: linesSchema,
  why: whyProposed,
});
export type HolidayProposal = z.output<typeof holidayProposalSchema>;
