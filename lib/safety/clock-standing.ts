import { isCalendarDate } from "@/lib/warranty/calendar";
import { dayEnd } from "./clock-arithmetic";
import type { ReportingDecision } from "./incident-decision";
import type { ReportingClock } from "./reporting-clock.schema";
import type { RunningClock } from "./run-clocks";

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

/** Between two calls about a clock that is over, or on which every hour counts, while nobody decides. Engineering default. */
const CALL_AGAIN_MS = 24 * 60 * 60 * 1000;

/**
 * The last instant at which somebody is called anew because a clock that may be running waits for a decision: at half of its time,
 * at its end and every day after it; from its beginning on where every hour counts; and from the end of an investigation after which
 * nobody decided. Null where none has come: who takes notice decides nothing, and a clock must not run out in silence.
 */
export function lastCallForDecision(
  running: readonly RunningClock[],
  decisions: ReadonlyMap<string, Decided>,
  now: Date,
): Date | null {
  const calls = running.flatMap((one) => callsOf(one, decisions.get(one.clock.id), now));
  return calls.length === 0 ? null : new Date(Math.max(...calls));
}

function callsOf({ clock, mayRunSince, endsAt }: RunningClock, decided: Decided | undefined, now: Date): number[] {
  const standing = clockStanding(clock, decided, now);
  if (mayRunSince === null || !asksForDecision(standing)) return [];
  const since = mayRunSince.getTime();
  const investigated = decided === undefined ? null : investigationEnd(clock, decided);
  const from = investigated ?? endsAt ?? mayRunSince;
  if (now >= from) return [now.getTime() - ((now.getTime() - from.getTime()) % CALL_AGAIN_MS)];
  const half = since + (from.getTime() - since) / 2;
  return now.getTime() >= half ? [half] : [];
}
