import { headerWithoutUnit } from "@/lib/readings/header-words";
import { listed } from "@/lib/readings/plan-columns";
import type { PlannedColumn } from "@/lib/readings/planned-column";
import { rowMean } from "@/lib/readings/row-mean";
import { isOfSeveral } from "@/lib/readings/temperature-names";

/** How far a repeated temperature may lie from what it repeats: a rounding to whole degrees, and one row earlier or later (engineering default, no authority). */
const roundingC = 1.01;

interface TemperatureSlots {
  /** Slots that are probes of their own. */
  readonly probes: readonly number[];
  /** Slots that a person left out and that are searched for an emergency; one that never moves may be a limit and no reading. */
  readonly leftOut: readonly number[];
  readonly remarks: readonly string[];
  /** By field, why a column must be looked at. */
  readonly open: Readonly<Record<number, string>>;
}

/**
 * The temperature columns that witness by themselves. One that is named for several, or without a number beside numbered ones, and
 * that in every row lies on the highest, the lowest or the mean of the others is none: it would bear out whatever a probe of theirs
 * reads. Beside one probe alone only a name for several is taken for its copy, because two probes of a small pack can read alike.
 */
export function temperatureSlots(columns: readonly PlannedColumn[], values: readonly Float64Array[]): TemperatureSlots {
  const isRead = ({ meaning }: PlannedColumn) => meaning.quantity === "temperature" && meaning.isLeftOut !== true;
  const slots = columns.flatMap((column, slot) => (isRead(column) ? [slot] : []));
  const valuesOf = (some: readonly number[]) => some.flatMap((slot) => values[slot] ?? []);
  const isNamedForSeveral = (slot: number) => isOfSeveral(columns[slot]?.header ?? "");
  const isOwn = (slot: number) => columns[slot]?.meaning.number !== null && !isNamedForSeveral(slot);
  const own = slots.filter(isOwn);
  const repeats = (slot: number) => {
    const [column] = valuesOf([slot]);
    if (isOwn(slot) || column === undefined || own.length < (isNamedForSeveral(slot) ? 1 : 2)) return false;
    return toldOf(valuesOf(own)).some((told) => liesOn(column, told));
  };
  const probes = slots.filter((slot) => !repeats(slot));
  const repeated = slots.filter((slot) => !probes.includes(slot));
  const remark = `Temperatures that repeat the highest, the lowest or the mean of the others, and are not counted as one more: ${listed(
    repeated.map((slot) => headerWithoutUnit(columns[slot]?.header ?? "")),
  )}.`;
  const set = probes.filter((slot) => {
    const column = columns[slot];
    const isSaid = column?.meaning.confirmed !== undefined;
    return !isSaid && isNamedForSeveral(slot) && mayBeSetting(values[slot]);
  });
  const leftOut = columns.flatMap(({ meaning }, slot) =>
    meaning.isLeftOut === true && !mayBeSetting(values[slot]) ? [slot] : [],
  );
  const names = leftOut.map((slot) => headerWithoutUnit(columns[slot]?.header ?? ""));
  const leftOutRemark = `Left out because a person said so, and searched for an emergency all the same: ${listed(names)}.`;
  return {
    probes,
    leftOut,
    remarks: [...(repeated.length === 0 ? [] : [remark]), ...(leftOut.length === 0 ? [] : [leftOutRemark])],
    open: Object.fromEntries(set.map((slot) => [columns[slot]?.field ?? 0, neverMoves])),
  };
}

const neverMoves = "These values never move. If they are a limit that was set and no reading, leave the column out.";

/** Limits of temperature that are set in a pack lie at or outside these, degC (common practice, no source). */
const settings = { fromC: 45, toC: 0 } as const;

/** Whether all values are one, and one that a limit may be set to: a warmth of the day that never moves misleads nobody. */
function mayBeSetting(column: Float64Array | undefined): boolean {
  const first = column?.find((value) => Number.isFinite(value));
  if (first === undefined || (first < settings.fromC && first > settings.toC)) return false;
  return column?.every((value) => Number.isNaN(value) || value === first) === true;
}

/** What is written of several columns in one: the highest, the lowest and the mean of each row. */
function toldOf(columns: readonly Float64Array[]): readonly Float64Array[] {
  return [edgeOf(columns, 1), edgeOf(columns, -1), rowMean(columns, columns[0]?.length ?? 0)];
}

/** The highest (`side` 1) or the lowest (-1) of several columns in each row; NaN where none has a value. */
function edgeOf(columns: readonly Float64Array[], side: 1 | -1): Float64Array {
  const edge = new Float64Array(columns[0]?.length ?? 0).fill(Number.NaN);
  for (const column of columns)
    for (let row = 0; row < edge.length; row++) {
      const value = column[row] ?? Number.NaN;
      if (Number.isFinite(value) && !(side * value <= side * (edge[row] ?? Number.NaN))) edge[row] = value;
    }
  return edge;
}

function liesOn(column: Float64Array, edge: Float64Array): boolean {
  for (let row = 0; row < column.length; row++) {
    const value = column[row] ?? Number.NaN;
    if (!Number.isFinite(value)) continue;
    let highest = Number.NEGATIVE_INFINITY;
    let lowest = Number.POSITIVE_INFINITY;
    for (let near = Math.max(0, row - 1); near <= row + 1 && near < edge.length; near++) {
      const known = edge[near] ?? Number.NaN;
      if (known > highest) highest = known;
      if (known < lowest) lowest = known;
    }
    if (value > highest + roundingC || value < lowest - roundingC) return false;
  }
  return true;
}
