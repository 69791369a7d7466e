import { expect, test } from "vitest";
import { lastDayToObject, lastDayToReopen, toldPeriods } from "@/lib/returns/told-periods";
import { calendarDate } from "@/lib/warranty/calendar";

const zone = "Europe/Berlin";
/** Thirty days until the middle of November, fourteen from then on. */
const shortened = (at: Date | null) => {
  const days = at !== null && at >= new Date("2026-11-15T00:00:00Z") ? 14 : 30;
  return { objectionDays: days, solvedReopenDays: days };
};
const past = (over: Partial<Record<"decidedAt" | "handedBackAt" | "solvedAt" | "letterGivenOn", string>>) => {
  const { letterGivenOn, ...instants } = over;
  const day = letterGivenOn === undefined ? null : calendarDate(letterGivenOn);
  return { decidedAt: null, handedBackAt: null, solvedAt: null, ...instants, letterGivenOn: day };
};

test("the days as they held when it was decided are kept when the periods are shortened", () => {
  const decided = past({ decidedAt: "2026-11-01T10:00:00Z", letterGivenOn: "2026-11-20" });
  expect(lastDayToObject(decided, toldPeriods(decided, shortened), zone)).toBe("2026-12-20");
  const solved = past({ solvedAt: "2026-11-01T10:00:00Z" });
  expect(lastDayToReopen(solved, toldPeriods(solved, shortened), zone)).toBe("2026-12-01");
});

test("the time does not run from the record of a decision that nobody has told the customer", () => {
  const untold = past({ decidedAt: "2026-11-01T10:00:00Z" });
  expect(lastDayToObject(untold, toldPeriods(untold, shortened), zone)).toBeNull();
});

test("a hand-over takes nothing from what the letter promised, a later one gives more, and one alone begins it", () => {
  const both = past({
    decidedAt: "2026-11-10T10:00:00Z",
    letterGivenOn: "2026-11-10",
    handedBackAt: "2026-11-16T10:00:00Z",
  });
  expect(lastDayToObject(both, toldPeriods(both, shortened), zone)).toBe("2026-12-10");
  const late = { ...both, handedBackAt: "2026-12-20T10:00:00Z" };
  expect(lastDayToObject(late, toldPeriods(late, shortened), zone)).toBe("2027-01-03");
  const unlettered = { ...late, letterGivenOn: null };
  expect(lastDayToObject(unlettered, toldPeriods(unlettered, shortened), zone)).toBe("2027-01-03");
});

test("before a decision there is no last day", () => {
  expect(lastDayToObject(past({}), toldPeriods(past({}), shortened), zone)).toBeNull();
  expect(lastDayToReopen(past({}), toldPeriods(past({}), shortened), zone)).toBeNull();
});
