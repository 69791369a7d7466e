import { type CauseCounts, CauseTally } from "@/lib/stats/cause-tally";
import type { LifeCount, LifeProblem } from "@/lib/stats/life-counts";
import { LifeTally } from "@/lib/stats/life-tally";
import type { UnitRowReading } from "./unit-row";

/** Lines named of each kind of refusal; beyond them only their number is kept, so that a bad file cannot fill memory. */
const LINES_NAMED = 5;

export interface Refusal {
  readonly rows: number;
  /** The first few of them, counted from 1. */
  readonly lines: readonly number[];
}

export interface UnitGroup {
  readonly group: string;
  readonly counts: readonly LifeCount[];
  /** The same lives as they were `cutBack` before the day of the data: what laws and rates rest on. */
  readonly settled: readonly LifeCount[];
  /** Rows in which a unit goes on that a row above names: of one unit, and no other. */
  readonly rowsGoingOn: number;
  /** Units whose watch ended without a failure before the day of the data. */
  readonly unitsLeft: number;
  /** Rows by the age at which they end without a failure and nobody runs on from there: of units that left, or that go on in another row. */
  readonly left: ReadonlyMap<number, number>;
  /** Of them those in `settled`, with the ages they were still watched at in the time that is cut off. */
  readonly leftSpans: readonly LeftSpan[];
  /** The same lives with their failures told apart; null where the file names no causes. */
  readonly byCause: CauseCounts | null;
  readonly refusals: ReadonlyMap<LifeProblem, Refusal>;
  /** Rows that count ages of a unit which a row above has counted already; null where there is none, or the file does not name its units. */
  readonly countedTwice: Refusal | null;
  /** What befell each unit, row after row; null where the file does not name its units or nobody asked. */
  readonly units: ReadonlyMap<string, readonly UnitSpan[]> | null;
}

/** So many units that `settled` last sees running at one age and that were watched no further than to the other. */
export interface LeftSpan {
  readonly from: number;
  readonly to: number;
  readonly units: number;
}

/** One row of a unit: watched from one age to the other, with an event at its end or without. */
export interface UnitSpan {
  readonly from: number;
  readonly to: number;
  readonly event: boolean;
}

export interface UnitGroups {
  add(row: Extract<UnitRowReading, { kind: "unit" | "refused" }>, line: number): void;
  /** The groups in the order in which the file first names them. */
  finish(): UnitGroup[];
}

/** Counts the rows of a units file group by group while it streams by. */
export function createUnitGroups({ hasCauses = false, keepsUnits = false, cutBack = 0 } = {}): UnitGroups {
  const groups = new Map<string, OpenGroup>();
  const watchedTo = new Map<string, number>();
  const lastRows = new Map<string, LastRow>();

  return {
    add(row, line) {
      let group = groups.get(row.group);
      if (group === undefined) {
        group = {
          lives: new LifeTally(),
          settled: new LifeTally(),
          causes: new CauseTally(),
          refusals: new Map(),
          countedTwice: { rows: 0, lines: [] },
          units: new Map(),
          rowsGoingOn: 0,
          unitsLeft: 0,
          left: new Map(),
          leftSpans: new Map(),
        };
        groups.set(row.group, group);
      }
      if (row.kind === "unit") {
        if (row.unit !== undefined) {
          const before = watchedTo.get(row.unit) ?? 0;
          if (row.entryAge < before) note(group.countedTwice, line);
          else if (watchedTo.has(row.unit)) group.rowsGoingOn += 1;
          watchedTo.set(row.unit, Math.max(before, row.exitAge));
        }
        group.lives.add(row.entryAge, row.exitAge, row.failed);
        if (cutBack > 0) addCutBack(group.settled, row, cutBack);
        noteLeft({ group, row }, row.unit === undefined ? undefined : lastRows, cutBack);
        if (hasCauses) group.causes.add(row.entryAge, row.exitAge, row.cause ?? null);
        if (keepsUnits && row.unit !== undefined) {
          const spans = group.units.get(row.unit) ?? [];
          group.units.set(row.unit, spans);
          spans.push({ from: row.entryAge, to: row.exitAge, event: row.failed });
        }
        return;
      }
      const refusal = group.refusals.get(row.problem) ?? { rows: 0, lines: [] };
      note(refusal, line);
      group.refusals.set(row.problem, refusal);
    },
    finish() {
      return [...groups].map(([group, open]) => {
        const { lives, settled, causes, refusals, countedTwice, units, rowsGoingOn, unitsLeft, left, leftSpans } = open;
        const byCause = hasCauses ? causes.counts() : null;
        const counts = lives.counts();
        const settledCounts = cutBack > 0 ? settled.counts() : counts;
        const twice = countedTwice.rows === 0 ? null : countedTwice;
        const kept = { refusals, countedTwice: twice, units: keepsUnits ? units : null, unitsLeft };
        const spans = [...leftSpans.values()];
        return { group, counts, settled: settledCounts, rowsGoingOn, left, leftSpans: spans, byCause, ...kept };
      });
    },
  };
}

type UnitRow = Extract<UnitRowReading, { kind: "unit" }>;

/** The row of a unit that reaches furthest so far, and the group it was counted in. */
interface LastRow {
  readonly group: OpenGroup;
  readonly row: UnitRow;
}

/**
 * A unit that left unfailed before the day of the data; and a row after which its unit goes on in another one, whatever their order in
 * the file: that unit did not leave, but runs in the last row alone. `lastRows` where the file names its units.
 */
function noteLeft(now: LastRow, lastRows: Map<string, LastRow> | undefined, cutBack: number): void {
  const { unit = "" } = now.row;
  const other = lastRows?.get(unit);
  const isLast = other === undefined || other.row.exitAge <= now.row.exitAge;
  if (isLast) lastRows?.set(unit, now);
  if (isLast && other !== undefined) {
    if (hasLeft(other.row)) other.group.unitsLeft -= 1;
    else if (!other.row.failed) noteEnd(other, cutBack);
  }
  if (hasLeft(now.row) || (!isLast && !now.row.failed)) noteEnd(now, cutBack);
  if (isLast && hasLeft(now.row)) now.group.unitsLeft += 1;
}

function hasLeft({ failed, since = 0 }: UnitRow): boolean {
  return !failed && since > 0;
}

function noteEnd({ group: { left, leftSpans }, row }: LastRow, cutBack: number): void {
  const { entryAge, exitAge: to, since = 0 } = row;
  left.set(to, (left.get(to) ?? 0) + 1);
  const from = since >= cutBack ? to : to + since - cutBack;
  if (cutBack === 0 || from <= entryAge) return;
  const key = `${from} ${to}`;
  leftSpans.set(key, { from, to, units: (leftSpans.get(key)?.units ?? 0) + 1 });
}

function note(refusal: { rows: number; lines: number[] }, line: number): void {
  refusal.rows += 1;
  if (refusal.lines.length < LINES_NAMED) refusal.lines.push(line);
}

/** As `cutBack` of cells: what happened since is cut off, lives that began after it are left out. */
function addCutBack(settled: LifeTally, row: UnitRow, cutBack: number): void {
  const { entryAge, exitAge, failed, since = 0 } = row;
  if (since >= cutBack) settled.add(entryAge, exitAge, failed);
  else if (exitAge + since - cutBack > entryAge) settled.add(entryAge, exitAge + since - cutBack, false);
}

interface OpenGroup {
  readonly lives: LifeTally;
  /** Filled only where a time is cut off. */
  readonly settled: LifeTally;
  /** Filled only where the file names causes. */
  readonly causes: CauseTally;
  readonly refusals: Map<LifeProblem, { rows: number; lines: number[] }>;
  readonly countedTwice: { rows: number; lines: number[] };
  /** Filled only where they are asked for: memory follows their number. */
  readonly units: Map<string, UnitSpan[]>;
  rowsGoingOn: number;
  unitsLeft: number;
  readonly left: Map<number, number>;
  readonly leftSpans: Map<string, LeftSpan>;
}
