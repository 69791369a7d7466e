import { expect, test } from "vitest";
import { lastDayToObject, lastDayToReopen, toldPeriods } from "@/lib/returns/told-periods";

const zone = "Europe/Berlin";
/** Thirty days until the middle of November, fourteen from then on. */
const shortened = (at: Date | null) => {
  const days = at !== null && at >= new Date("2026-11-15T00:00:00Z") ? 14 : 30;
  return { objectionDays: days, solvedReopenDays: days };
};
const past = (over: Partial<Record<"decidedAt" | "handedBackAt" | "solvedAt", string>>) => ({
  decidedAt: null,
  handedBackAt: null,
  solvedAt: null,
  ...over,
});

test("a period that was promised in a letter is kept when the periods are shortened", () => {
  const decided = past({ decidedAt: "2026-11-01T10:00:00Z" });
  expect(lastDayToObject(decided, toldPeriods(decided, shortened), zone)).toBe("2026-12-01");
  const solved = past({ solvedAt: "2026-11-01T10:00:00Z" });
  expect(lastDayToReopen(solved, toldPeriods(solved, shortened), zone)).toBe("2026-12-01");
});

test("a hand-over under the shorter period takes nothing from what the letter promised, and a later one gives more", () => {
  const both = past({ decidedAt: "2026-11-10T10:00:00Z", handedBackAt: "2026-11-16T10:00:00Z" });
  expect(lastDayToObject(both, toldPeriods(both, shortened), zone)).toBe("2026-12-10");
  const late = past({ decidedAt: "2026-11-10T10:00:00Z", handedBackAt: "2026-12-20T10:00:00Z" });
  expect(lastDayToObject(late, toldPeriods(late, shortened), zone)).toBe("2027-01-03");
});

test("before a decision there is no last day", () => {
  expect(lastDayToObject(past({}), toldPeriods(past({}), shortened), zone)).toBeNull();
  expect(lastDayToReopen(past({}), toldPeriods(past({}), shortened), zone)).toBeNull();
});
