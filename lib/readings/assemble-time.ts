import type { DecodedColumns } from "@/lib/readings/decoded-columns";
import { unixOfLocal } from "@/lib/readings/local-time";
import {
  earliestFor,
  isBelievableDate,
  latestFor,
  type RepairedTime,
  repairTime,
  runsBackwards,
} from "@/lib/readings/time-repair";

export interface AssembledTime {
  readonly timeS: Float64Array;
  readonly segment: Int32Array;
  readonly startUnixS: number | null;
  readonly repairs: number;
  /** Rows before which the clock was set or went back. */
  readonly stepRows: readonly number[];
  /** True where the dates are local times of a zone the file does not name. */
  readonly lacksZone: boolean;
  readonly remarks: readonly string[];
}

const dayS = 86_400;
const hourS = 3600;
/** A clock set by a whole number of quarter hours, within this, points to a time zone or summer time (engineering default, no authority). */
const zoneStepToleranceS = 120;

/** Stage 2. Time base of the log from its time columns: order, repair, start date, and what a reader must know about the clock. */
export function assembleTime(
  decoded: DecodedColumns,
  timeZone: string | null = null,
  builtUnixS: number | null = null,
  receivedUnixS: number | null = null,
): AssembledTime {
  const { plan, rows, line } = decoded;
  const remarks: string[] = [];
  const columnOf = (field: number | null | undefined) =>
    decoded.columns[plan.columns.findIndex((column) => column.field === field)];
  const scaled = (column: Float64Array | undefined, scaleS: number) => {
    const seconds = new Float64Array(rows).fill(Number.NaN);
    if (column !== undefined) for (let row = 0; row < rows; row++) seconds[row] = (column[row] ?? Number.NaN) * scaleS;
    return seconds;
  };

  const unixS = plan.time.unix === null ? null : scaled(columnOf(plan.time.unix.field), plan.time.unix.scaleS);
  const clockOfDay =
    plan.time.unix === null || plan.time.unix.clockField === null ? undefined : columnOf(plan.time.unix.clockField);
  if (unixS !== null && clockOfDay !== undefined)
    for (let row = 0; row < rows; row++) unixS[row] = (unixS[row] ?? 0) + (clockOfDay[row] ?? 0);
  const running =
    plan.time.running === null ? null : scaled(columnOf(plan.time.running.field), plan.time.running.scaleS);
  const calendar = running === null;
  const clockS = running ?? unixS ?? new Float64Array(rows);

  // Order before days: of a file with its newest row first, midnight is a step ahead.
  if (runsBackwards(clockS, plan.time.timeOfDay ? dayS : Number.POSITIVE_INFINITY)) {
    for (const column of [...decoded.columns, line, clockS]) column.reverse();
    if (unixS !== null && unixS !== clockS) unixS.reverse();
    remarks.push("The file lists its newest row first; the rows were put in order of time.");
  }
  if (plan.time.timeOfDay && joinDays(clockS) > 0)
    remarks.push("The file gives the time of day only; days were counted on at midnight.");
  const steady = steadyColumns(decoded);
  const earliestUnixS = earliestFor(builtUnixS);
  const repaired = repairTime(
    clockS,
    calendar ? { earliestUnixS, isUnchanged: (row) => isUnchanged(steady, row) } : null,
  );
  const lacksZone = plan.time.fromText && decoded.lacksZone;
  const begun = startOf(unixS, repaired, earliestUnixS);
  const endLocalS = begun === null ? null : begun + (repaired.timeS.at(-1) ?? 0);
  const isAhead = endLocalS !== null && endLocalS > latestFor(receivedUnixS);
  const isOrderOpen = plan.openDayOrder !== null && plan.time.fromText;
  const startLocalS = isAhead || isOrderOpen ? null : begun;
  const startUnixS =
    startLocalS !== null && lacksZone && timeZone !== null ? unixOfLocal(startLocalS, timeZone) : startLocalS;
  if (isAhead)
    remarks.push(
      `The clock of this file shows ${isoDay(endLocalS)}, ${receivedUnixS === null ? "which is later than any log of this day can be" : "which had not come when the file was sent"}: no date of it is believed, and its times are relative only.`,
    );
  else if (unixS !== null && startUnixS === null && !isOrderOpen)
    remarks.push("The clock of this file shows no believable date at its start; its times are relative only.");
  if (lacksZone)
    remarks.push(
      timeZone === null
        ? "Dates in this file are local time without a zone; they are read as if they were UTC."
        : `Dates in this file are local time without a zone; they are read as times in ${timeZone}, as was confirmed.`,
    );
  if (repaired.resets.length > 0) {
    remarks.push(
      `The clock jumped for a single row ${repaired.resets.length} times (first in line ${line[repaired.resets[0] ?? 0]}); those rows take the time of the row before.`,
    );
  }
  for (const { row, stepS } of repaired.steps.slice(0, 5)) remarks.push(stepRemark(line[row] ?? 0, stepS, calendar));
  if (repaired.steps.length > 5)
    remarks.push(`The clock was set ${repaired.steps.length} times in all; nothing is counted across such a step.`);
  if (calendar) remarks.push(...forwardZoneSteps(clockS, line, repaired.segment, steady));
  if (repaired.duplicates > 0)
    remarks.push(
      `${repaired.duplicates} rows carry the same time as the row before and weigh nothing in sums over time.`,
    );
  return {
    timeS: repaired.timeS,
    segment: repaired.segment,
    startUnixS,
    repairs: repaired.resets.length + repaired.steps.length,
    stepRows: repaired.steps.map(({ row }) => row),
    lacksZone: lacksZone && (startLocalS !== null || isOrderOpen),
    remarks,
  };
}

/** YYYY-MM-DD. */
function isoDay(unixS: number): string {
  return new Date(unixS * 1000).toISOString().slice(0, 10);
}

function stepRemark(line: number, stepS: number, calendar: boolean): string {
  if (stepS > 0) return `The clock was set in line ${line}; what stands above it has relative time only.`;
  const quarters = Math.round(-stepS / (hourS / 4));
  const isZone =
    calendar && quarters >= 2 && quarters <= 56 && Math.abs(-stepS - (quarters * hourS) / 4) <= zoneStepToleranceS;
  const size = -stepS >= hourS ? `${(-stepS / hourS).toFixed(2)} h` : `${(-stepS).toFixed(1)} s`;
  return isZone
    ? `The clock goes back by ${size} in line ${line}, as local time does at a change of summer time or zone; nothing is counted across it.`
    : `The clock goes back by ${size} in line ${line}; a new stretch of time starts there and nothing is counted across it.`;
}

interface SteadyColumn {
  readonly values: Float64Array;
  readonly limit: number;
}

/** Columns a pack left alone keeps: voltages of groups within 20 mV, state of charge within 1 %. Engineering defaults. */
function steadyColumns({ plan, columns }: DecodedColumns): SteadyColumn[] {
  return plan.columns.flatMap((column, slot) => {
    const limit =
      column.meaning.quantity === "cell-voltage" ? 0.02 : column.meaning.quantity === "state-of-charge" ? 1 : null;
    const values = columns[slot];
    return limit === null || values === undefined ? [] : [{ values, limit }];
  });
}

function isUnchanged(steady: readonly SteadyColumn[], row: number): boolean {
  return (
    steady.length > 0 &&
    steady.every(({ values, limit }) => !(Math.abs((values[row] ?? 0) - (values[row - 1] ?? 0)) > limit))
  );
}

/** Leaps ahead by one hour while voltage and state of charge go on as if nothing had happened. */
function forwardZoneSteps(
  clockS: Float64Array,
  line: Int32Array,
  segment: Int32Array,
  steady: readonly SteadyColumn[],
): string[] {
  for (let row = 1; row < clockS.length && steady.length > 0; row++) {
    const step = (clockS[row] ?? 0) - (clockS[row - 1] ?? 0);
    if (Math.abs(step - hourS) > zoneStepToleranceS || segment[row] !== segment[row - 1]) continue;
    if (!isUnchanged(steady, row)) continue;
    return [
      `The clock leaps ahead by one hour in line ${line[row]} while the voltages go on unchanged, as local time does at a change of summer time.`,
    ];
  }
  return [];
}

/** A date before the pack was built is believed where the clock runs on from it, without being set, to one after. */
function startOf(unixS: Float64Array | null, { timeS, segment }: RepairedTime, earliestUnixS: number): number | null {
  if (unixS === null) return null;
  const row = unixS.findIndex((value) => Number.isFinite(value));
  const startUnixS = row < 0 ? Number.NaN : (unixS[row] ?? Number.NaN) - (timeS[row] ?? 0);
  if (isBelievableDate(startUnixS, earliestUnixS)) return startUnixS;
  const last = segment.lastIndexOf(segment[Math.max(0, row)] ?? 0);
  const endUnixS = startUnixS + (timeS[last] ?? 0);
  return isBelievableDate(startUnixS) && isBelievableDate(endUnixS, earliestUnixS) ? startUnixS : null;
}

/** Adds a day wherever a time of day falls back by most of one. Returns the number of midnights. */
function joinDays(clockS: Float64Array): number {
  let days = 0;
  let before = clockS[0] ?? 0;
  for (let row = 1; row < clockS.length; row++) {
    const now = clockS[row] ?? 0;
    if (before - now > dayS / 2) days++;
    before = now;
    clockS[row] = now + days * dayS;
  }
  return days;
}
