import { expect, test } from "vitest";
import { calendarDate, plusMonths } from "@/lib/warranty/calendar";
import { coverOf } from "@/lib/warranty/cover";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { type WarrantyPolicy, warrantyPolicySchema } from "@/lib/warranty/policy.schema";
import { windowEnd } from "@/lib/warranty/window-end";

// The counting rule is that of Regulation (EEC, Euratom) No 1182/71, Art. 3, and of the German Civil Code, ss. 187(1)
// and 188(2) and (3): the day of the event is not counted, the period ends with the day of the same number, or with the
// last day of the month where that day is missing. The dates themselves are computed, calendar arithmetic.
const REGULATION = "Regulation 1182/71 Art. 3(2)(c), German Civil Code s. 188(2)";
const MONTH_END = "Regulation 1182/71 Art. 3(2)(c), German Civil Code s. 188(3)";
const COMPUTED = "computed, calendar arithmetic";

test.for([
  ["2024-03-15", 24, "2026-03-15", REGULATION],
  ["2024-02-29", 24, "2026-02-28", MONTH_END],
  ["2024-02-28", 24, "2026-02-28", REGULATION],
  ["2024-08-31", 24, "2026-08-31", REGULATION],
  ["2024-02-29", 36, "2027-02-28", MONTH_END],
  ["2024-02-29", 48, "2028-02-29", REGULATION],
  ["2025-08-31", 6, "2026-02-28", MONTH_END],
  ["2025-08-31", 30, "2028-02-29", MONTH_END],
  ["2024-01-31", 25, "2026-02-28", MONTH_END],
  ["2025-01-31", 2, "2025-03-31", COMPUTED],
] as const)("sold on %s, %i months end on %s (%s)", ([soldOn, months, endsOn]) => {
  expect(windowEnd(calendarDate(soldOn), months, "february-28")).toBe(endsOn);
});

// What the rule protects from: the months one after the other lose the 31st.
test("31 January plus one month, twice, loses three days (computed, calendar arithmetic)", () => {
  const oneByOne = plusMonths(plusMonths(calendarDate("2025-01-31"), 1), 1);
  expect(oneByOne).toBe("2025-03-28");
  expect(plusMonths(calendarDate("2025-01-31"), 2)).toBe("2025-03-31");
});

test("a sale on 29 February may end on 1 March where the policy says so, and no other day moves", () => {
  expect(windowEnd(calendarDate("2024-02-29"), 24, "march-1")).toBe("2026-03-01");
  expect(windowEnd(calendarDate("2024-02-29"), 48, "march-1")).toBe("2028-02-29");
  expect(windowEnd(calendarDate("2025-08-31"), 6, "march-1")).toBe("2026-02-28");
  expect(windowEnd(calendarDate("2096-02-29"), 48, "march-1")).toBe("2100-03-01");
});

test("from 2000 to 2100 the only sale days that 24 months move are the 25 leap days (computed)", () => {
  const moved: string[] = [];
  for (let at = Date.UTC(2000, 0, 1); at < Date.UTC(2101, 0, 1); at += 86_400_000) {
    const day = calendarDate(new Date(at).toISOString().slice(0, 10));
    if (windowEnd(day, 24, "february-28").slice(5) !== day.slice(5)) moved.push(day);
  }
  expect(moved).toHaveLength(25);
  expect(moved.every((day) => day.endsWith("-02-29"))).toBe(true);
});

test("dispatch on 30 June 2024 with a shelf limit of 12 months starts on 30 June 2025 and ends on 30 June 2027", () => {
  const cover = coverOf(
    { start: { dispatchedOn: calendarDate("2024-06-30") }, toldOn: calendarDate("2027-06-30") },
    policy({ stockAgeCapMonths: 12 }),
  );
  expect(cover).toMatchObject({
    outcome: "in-cover",
    startsOn: "2025-06-30",
    endsOn: "2027-06-30",
    evidence: "dispatch-plus-shelf-limit",
    settlement: { startsOn: "2025-06-30", endsOn: "2027-06-30" },
  });
});

// Instants of one evening and one morning around the last day, 15 March 2026 (offsets of the IANA database: Los Angeles
// UTC-7 from 8 March, Sydney UTC+11 until 5 April, Berlin UTC+1).
test.for([
  { place: "America/Los_Angeles", at: "2026-03-15T23:40:00-07:00", day: "2026-03-15", outcome: "in-cover" },
  {
    place: "Australia/Sydney",
    at: "2026-03-16T08:10:00+11:00",
    day: "2026-03-16",
    outcome: "outside-makers-guarantee",
  },
  { place: "Europe/Berlin", at: "2026-03-15T23:40:00-07:00", day: "2026-03-16", outcome: "outside-makers-guarantee" },
])("told at $at counts as $day in $place: $outcome", ({ place, at, day, outcome }) => {
  const toldOn = civilDateAt(new Date(at), place);
  expect(toldOn).toBe(day);
  expect(coverOf({ start: { deliveryReceiptOn: calendarDate("2024-03-15") }, toldOn }, policy({}))).toMatchObject({
    endsOn: "2026-03-15",
    outcome,
  });
});

// Original end 15 March 2026, replacement delivered on 20 February 2026 (computed, calendar arithmetic). Six months from
// that delivery are 181 days.
test.for([
  { replacementRule: "remainder", minimumDays: 0, endsOn: "2026-03-15" },
  { replacementRule: "minimum", minimumDays: 90, endsOn: "2026-05-21" },
  { replacementRule: "minimum", minimumDays: 181, endsOn: "2026-08-20" },
  { replacementRule: "minimum", minimumDays: 10, endsOn: "2026-03-15" },
  { replacementRule: "restart", minimumDays: 0, endsOn: "2028-02-20" },
] as const)(
  "a replacement under the rule $replacementRule with $minimumDays days ends on $endsOn",
  ({ endsOn, ...rule }) => {
    const cover = coverOf(
      {
        start: { deliveryReceiptOn: calendarDate("2024-03-15") },
        toldOn: calendarDate("2026-03-01"),
        replacements: [{ deliveredOn: calendarDate("2026-02-20") }],
      },
      policy(rule),
    );
    expect(cover).toMatchObject({ startsOn: "2024-03-15", endsOn });
  },
);

function policy(over: Partial<WarrantyPolicy>): WarrantyPolicy {
  return { ...warrantyPolicySchema.parse({ version: "test", validFrom: "2020-01-01", months: 24 }), ...over };
}
