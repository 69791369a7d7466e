import { type Holidays, limitEnd } from "./clock-arithmetic";
import { counselClock } from "./counsel-clock";
import type { ClockSet, ReportingClock } from "./reporting-clock.schema";

export interface ClockFacts {
  readonly firstKnownAt: Date;
  /** Countries the event, the sale or the dealer is in; a clock without countries runs for all. */
  readonly countries: readonly string[];
  /** When a named person found the defect to be safety-related; null while nobody did. */
  readonly determinedAt: Date | null;
}

export interface RunningClock {
  readonly clock: ReportingClock;
  /** From this moment the clock may be running; null for one that waits for a determination. */
  readonly mayRunSince: Date | null;
  /** First instant at which the limit is over; null where it has no date or has not begun. */
  readonly endsAt: Date | null;
  readonly state: "every-hour-counts" | "time-left" | "over" | "waits-for-determination";
}

/** Holidays by clock id; a clock without an entry counts weekends only, and the screen says so. */
export type HolidaysByClock = Readonly<Record<string, Holidays>>;

/**
 * The clocks that may be running, the most pressing first. "May": whether a duty exists is a legal question that is
 * never answered here, and no clock is ever left out because an event looks small. For a country without a clock counsel is asked.
 */
export function runClocks(set: ClockSet, facts: ClockFacts, holidays: HolidaysByClock, now: Date): RunningClock[] {
  const held = set.clocks.filter(
    ({ countries }) => countries.length === 0 || countries.some((country) => facts.countries.includes(country)),
  );
  return [...held, ...countriesWithoutClock(set, facts.countries).map(counselClock)]
    .map((clock) => runOne(clock, facts, holidays[clock.id] ?? [], now))
    .sort((a, b) => pressure(a) - pressure(b));
}

/** Countries concerned whose law has no clock in the set: silence there says that nobody looked, not that no duty exists. */
export function countriesWithoutClock({ clocks }: ClockSet, countries: readonly string[]): string[] {
  return countries.filter((country) =>
    clocks.every((clock) => ![...clock.countries, ...clock.lawOf].includes(country)),
  );
}

function runOne(clock: ReportingClock, facts: ClockFacts, holidays: Holidays, now: Date): RunningClock {
  const start = clock.startsWith === "first-knowledge" ? facts.firstKnownAt : facts.determinedAt;
  if (start === null) return { clock, mayRunSince: null, endsAt: null, state: "waits-for-determination" };
  const endsAt = limitEnd(clock.limit, start, clock.zone, holidays);
  const state = endsAt === null ? "every-hour-counts" : now >= endsAt ? "over" : "time-left";
  return { clock, mayRunSince: start, endsAt, state };
}

/** What is over comes first, then what has no date, then by the end. */
function pressure({ state, endsAt }: RunningClock): number {
  if (state === "waits-for-determination") return Number.MAX_SAFE_INTEGER;
  if (state === "every-hour-counts") return 0;
  return state === "over" ? -1 : (endsAt?.getTime() ?? 0);
}
