import { isCalendarDate } from "@/lib/warranty/calendar";
import { dayEnd } from "./clock-arithmetic";
import type { ReportingDecision } from "./incident-decision";
import type { ReportingClock } from "./reporting-clock.schema";

/** The part of a decision on a clock that says how long it stands. */
interface Decided {
  readonly decision: ReportingDecision;
  /** Last day of the investigation, YYYY-MM-DD; null with every other decision. */
  readonly until: string | null;
}

/** How far one clock is decided. An investigation ends with its day: from then on the clock asks for a decision anew. */
export type ClockStanding = "undecided" | "investigated" | "investigation-over" | "decided";

export function clockStanding(
  clock: Pick<ReportingClock, "zone">,
  decided: Decided | undefined,
  now: Date,
): ClockStanding {
  if (decided === undefined) return "undecided";
  if (decided.decision !== "investigating") return "decided";
  const end = investigationEnd(clock, decided);
  return end === null || end <= now ? "investigation-over" : "investigated";
}

/** Whether somebody has to decide on it now. */
export function asksForDecision(standing: ClockStanding): boolean {
  return standing === "undecided" || standing === "investigation-over";
}

/** The first instant at which the day is over until which more is investigated, where the clock is counted; null without a day. */
export function investigationEnd({ zone }: Pick<ReportingClock, "zone">, { until }: Decided): Date | null {
  return until !== null && isCalendarDate(until) ? dayEnd(until, zone) : null;
}

/** When the last of the investigations ended that are over and after which nobody decided anew; null where there is none. */
export function lastInvestigationEnd(
  clocks: readonly ReportingClock[],
  decisions: ReadonlyMap<string, Decided>,
  now: Date,
): Date | null {
  const ends = clocks.flatMap((clock) => {
    const decided = decisions.get(clock.id);
    if (decided === undefined || clockStanding(clock, decided, now) !== "investigation-over") return [];
    return [(investigationEnd(clock, decided) ?? now).getTime()];
  });
  return ends.length === 0 ? null : new Date(Math.max(...ends));
}
