import { expect, test } from "vitest";
import { calendarDate as day } from "@/lib/warranty/calendar";
import { holidayProposalSchema, holidaysInYear, writeHolidays } from "@/lib/warranty/holiday-calendar";
import { easterSunday, holidayIn, readHolidayRule } from "@/lib/warranty/holiday-rules";
import { lastDay } from "@/lib/warranty/last-day";
import { sayWrittenHolidayRule } from "@/lib/warranty/say-holiday-rule";

const dayOf = (written: string, year: number) => {
  const rule = readHolidayRule(written);
  return rule === null ? "no rule" : holidayIn(rule, year);
};

// Dates of Easter as the almanacs print them (from memory); 1954 and 1981 are the years in which a simpler rule fails.
test("Easter falls where the almanacs say", () => {
  const printed = "1954-04-18 1981-04-19 2000-04-23 2024-03-31 2025-04-20 2026-04-05 2027-03-28 2038-04-25 2049-04-18";
  for (const date of printed.split(" ")) expect(easterSunday(Number(date.slice(0, 4)))).toBe(date);
});

test("a rule gives a day of the year, a day from Easter, a weekday of a month, or one day alone", () => {
  expect(dayOf("12-25", 2026)).toBe("2026-12-25");
  expect(dayOf("02-29", 2026)).toBeNull();
  expect(dayOf("Easter+39", 2026)).toBe("2026-05-14");
  // US federal holidays of 2026 as published by the Office of Personnel Management (from memory).
  expect(dayOf("third monday 01", 2026)).toBe("2026-01-19");
  expect(dayOf("last monday 05", 2026)).toBe("2026-05-25");
  expect(dayOf("fourth thursday 11", 2026)).toBe("2026-11-26");
  expect(dayOf("2026-10-05", 2026)).toBe("2026-10-05");
  expect(dayOf("2026-10-05", 2027)).toBeNull();
  for (const wrong of ["13-01", "02-30", "easter+", "fifth monday 01", "third monday 13", "", "Christmas"])
    expect(readHolidayRule(wrong), wrong).toBeNull();
});

test("a rule is told to a reader in words", () => {
  expect(sayWrittenHolidayRule("12-25")).toBe("25 December");
  expect(sayWrittenHolidayRule("easter-2")).toBe("2 days before Easter Sunday");
  expect(sayWrittenHolidayRule("easter+1")).toBe("1 day after Easter Sunday");
  expect(sayWrittenHolidayRule("easter")).toBe("Easter Sunday");
  expect(sayWrittenHolidayRule("third monday 01")).toBe("third Monday of January");
  expect(sayWrittenHolidayRule("last monday 05")).toBe("last Monday of May");
  expect(sayWrittenHolidayRule("2026-10-03")).toBe("3 October 2026");
});

// Regulation (EEC, Euratom) No 1182/71, Art. 3(4): a period that ends on a holiday, Sunday or Saturday ends with the
// last hour of the following working day. Christmas 2026: Friday and Saturday, then a Sunday.
test("a guarantee that ends on a public holiday lasts until the next working day, where its version says so", () => {
  const rules = ["12-25", "12-26"].flatMap((written) => readHolidayRule(written) ?? []);
  const next = { graceDays: 0, weekendEnd: "next-working-day" } as const;
  expect(lastDay(day("2026-12-24"), next, rules)).toBe("2026-12-24");
  expect(lastDay(day("2026-12-25"), next, rules)).toBe("2026-12-28");
  expect(lastDay(day("2026-12-25"), next)).toBe("2026-12-25");
  expect(lastDay(day("2026-12-26"), next)).toBe("2026-12-28");
  expect(lastDay(day("2026-12-25"), { ...next, weekendEnd: "as-it-falls" }, rules)).toBe("2026-12-25");
});

test("each day is counted by the list that held on it", () => {
  const name = { text: "A day", mark: { kind: "house" as const } };
  const lists = [
    {
      country: "DE",
      validFrom: day("2000-01-01"),
      holidays: [
        { rule: "05-01", name },
        { rule: "10-03", name },
      ],
    },
    {
      country: "DE",
      validFrom: day("2026-07-01"),
      holidays: [
        { rule: "05-01", name },
        { rule: "09-20", name },
      ],
    },
    { country: "PT", validFrom: day("2000-01-01"), holidays: [{ rule: "04-25", name }] },
  ];
  expect(holidaysInYear(lists, "DE", 2026)).toEqual(["2026-05-01", "2026-09-20"]);
  expect(holidaysInYear(lists, "DE", 2025)).toEqual(["2025-05-01", "2025-10-03"]);
  expect(holidaysInYear(lists, "FR", 2026)).toEqual([]);
});

test("a proposed list is read line by line, and a line without its day or its source is refused with its number", () => {
  const form = { version: "DE-2", country: "de", validFrom: "2027-01-01", why: "Reformation Day was added." };
  const lines = "12-25: Christmas Day [from memory: verify in the law]\n\neaster+1: Easter Monday [rule of this house]";
  const read = holidayProposalSchema.parse({ ...form, holidays: lines });
  expect(read).toMatchObject({ country: "DE", holidays: [{ rule: "12-25" }, { rule: "easter+1" }] });
  expect(writeHolidays(read.holidays)).toBe(lines.replace("\n\n", "\n"));
  for (const [wrong, sentence] of [
    ["Christmas [rule of this house]", /^Line 1: write the day first/],
    ["12-25: Christmas", /^Line 1: end it with where it comes from/],
  ] as const) {
    const answer = holidayProposalSchema.safeParse({ ...form, holidays: wrong });
    expect(answer.error?.issues[0]?.path).toEqual(["holidays"]);
    expect(answer.error?.issues[0]?.message).toMatch(sentence);
  }
});
