import type { IncidentFlag } from "@/lib/safety/incident-flags";
import { HOUR_MS } from "@/lib/warranty/clock-spans";
import { LEAST_WATCH_HOURS, measuringHours } from "./watch-hours";

/** Surface temperature and terminal voltage, measured while a pack lies in quarantine. */
export interface WatchReading {
  readonly at: Date;
  readonly surfaceC: number;
  readonly ambientC: number;
  /** At the terminals; null where it was not safe or not possible to connect. */
  readonly terminalV: number | null;
  /** Said by whoever measured no voltage; null where one was measured. */
  readonly noVoltageBecause: string | null;
}

/** A measurement may be this late before it is called overdue, in hours: the first two, and those a day or more after. Engineering default. */
const LATE_AFTER_HOURS = { early: 0.5, later: 3 } as const;

/** Rise over the room, or since the first measurement over the room, that counts as warming. Engineering default. */
const RISE_LIMIT_KELVIN = 3;

/** Fall of the terminal voltage since the first measurement that counts, as a share of it. Engineering default. */
const FALL_LIMIT_SHARE = 0.01;

/** The first measurement is taken while the pack is unpacked, not at the stroke. Engineering default. */
const SPAN_GRACE_HOURS = 1;

export interface WatchTask {
  readonly afterHours: number;
  readonly dueAt: Date;
  /** From here on it is late. */
  readonly overdueFrom: Date;
  readonly state: "done" | "due" | "later" | "overdue";
}

/**
 * The measurements to take and whether each was taken. A reading serves the latest task that was due when it was taken, so
 * that one late reading never passes for an early one.
 */
export function watchTasks(
  arrivedAt: Date,
  readings: readonly WatchReading[],
  neededHours: number,
  now: Date,
): WatchTask[] {
  const hours = measuringHours(neededHours);
  return hours.map((afterHours, index) => {
    const dueAt = new Date(arrivedAt.getTime() + afterHours * HOUR_MS);
    const next = hours[index + 1];
    const endMs = next === undefined ? Number.POSITIVE_INFINITY : arrivedAt.getTime() + next * HOUR_MS;
    const done = readings.some(({ at }) => at.getTime() >= dueAt.getTime() && at.getTime() < endMs);
    const mayBeLate = afterHours < LEAST_WATCH_HOURS ? LATE_AFTER_HOURS.early : LATE_AFTER_HOURS.later;
    const overdueFrom = new Date(dueAt.getTime() + mayBeLate * HOUR_MS);
    const open = now > overdueFrom ? "overdue" : now >= dueAt ? "due" : "later";
    return { afterHours, dueAt, overdueFrom, state: done ? "done" : open };
  });
}

/** The watch that counts: since the pack came in, or since it was begun anew. */
export interface Watch {
  readonly startedAt: Date;
  readonly readings: readonly WatchReading[];
}

/** What was measured before the watch was last begun anew stays on record and counts no more. */
export function currentWatch(arrivedAt: Date, restartedAt: readonly Date[], readings: readonly WatchReading[]): Watch {
  const startedAt = new Date(Math.max(...[arrivedAt, ...restartedAt].map((at) => at.getTime())));
  return { startedAt, readings: restartedAt.length === 0 ? readings : readings.filter(({ at }) => at >= startedAt) };
}

/** What the readings so far say. One reading alone says only whether the pack is warmer than the room now. */
export type WatchVerdict =
  | { readonly kind: "nothing-measured" }
  | { readonly kind: "alarm"; readonly because: readonly string[] }
  /** Long enough and no warmer, and nobody measured the voltage at both ends or said why not. */
  | { readonly kind: "no-voltage"; readonly overHours: number }
  | { readonly kind: "steady"; readonly overHours: number }
  | { readonly kind: "too-short"; readonly overHours: number };

/**
 * The rise rule: a pack whose surface is more than 3 K above the room, or gained more than 3 K over the room since the
 * first reading, or whose terminal voltage fell by more than 1 % gives an alarm. "Steady" needs the span asked
 * for less an hour of grace, and at both its ends a voltage or the reason why it was not safe to connect; anything less
 * cannot tell yet. Limits: engineering defaults, no authority.
 */
export function watchVerdict(readings: readonly WatchReading[], neededHours: number): WatchVerdict {
  const inOrder = [...readings].sort((a, b) => a.at.getTime() - b.at.getTime());
  const [first] = inOrder;
  const last = inOrder.at(-1);
  if (first === undefined || last === undefined) return { kind: "nothing-measured" };
  const because = inOrder.flatMap((reading) => alarmsOf(first, reading));
  if (because.length > 0) return { kind: "alarm", because: [...new Set(because)] };
  const overHours = (last.at.getTime() - first.at.getTime()) / HOUR_MS;
  if (overHours < neededHours - SPAN_GRACE_HOURS) return { kind: "too-short", overHours };
  return { kind: [first, last].every(isVoltageAnswered) ? "steady" : "no-voltage", overHours };
}

function isVoltageAnswered({ terminalV, noVoltageBecause }: WatchReading): boolean {
  return terminalV !== null || noVoltageBecause !== null;
}

/** What the newest measurement says that always makes an incident: heat of a pack nobody uses. A fall of the voltage is told in words. */
export function alarmFlags(readings: readonly WatchReading[], newest: WatchReading): IncidentFlag[] {
  const first = readings.reduce((earliest, one) => (one.at < earliest.at ? one : earliest), newest);
  const overRoomK = newest.surfaceC - newest.ambientC;
  const gainedK = overRoomK - (first.surfaceC - first.ambientC);
  return Math.max(overRoomK, gainedK) > RISE_LIMIT_KELVIN ? ["heat-without-load"] : [];
}

function alarmsOf(first: WatchReading, reading: WatchReading): string[] {
  const overRoomK = reading.surfaceC - reading.ambientC;
  const gainedK = overRoomK - (first.surfaceC - first.ambientC);
  const alarms: string[] = [];
  if (overRoomK > RISE_LIMIT_KELVIN) alarms.push(`The surface was ${overRoomK.toFixed(1)} K above the room.`);
  else if (gainedK > RISE_LIMIT_KELVIN) alarms.push(`The surface gained ${gainedK.toFixed(1)} K over the room.`);
  if (first.terminalV !== null && reading.terminalV !== null && first.terminalV > 0) {
    const fell = (first.terminalV - reading.terminalV) / first.terminalV;
    if (fell > FALL_LIMIT_SHARE) {
      alarms.push(`The voltage fell from ${first.terminalV.toFixed(2)} V to ${reading.terminalV.toFixed(2)} V.`);
    }
  }
  return alarms;
}
