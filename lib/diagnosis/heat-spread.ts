import type { Evidence } from "@/lib/diagnosis/evidence";
import { oncePerEvidence } from "@/lib/diagnosis/once-per-evidence";
import { rangeOf } from "@/lib/readings/measure/value-range";

/** Rows a difference must be held in: single frames are no heat. Engineering default. */
const rowsHeld = 5;

/** What the probes that are not at fault say of heat in one place; null where two never read together in such a row. */
export interface HeatSpread {
  readonly probes: number;
  readonly underLoadK: number | null;
  readonly atRestK: number | null;
  readonly highestC: number | null;
}

/** Differences between sound probes held in at least five rows, under load and after an hour of rest, and the highest reading. */
export const heatSpread = oncePerEvidence((evidence): HeatSpread => {
  const { survey } = evidence;
  const columns = soundProbes(evidence).map(({ valuesC }) => valuesC);
  const highest = columns.map((column) => rangeOf(column).highest).filter(Number.isFinite);
  return {
    probes: columns.length,
    underLoadK: heldSpreadK(columns, (row) => isLoaded(evidence, row)),
    atRestK: heldSpreadK(columns, (row) => (survey.restingS[row] ?? -1) >= evidence.settings.verdict.evenedOutS),
    highestC: highest.length === 0 ? null : Math.max(...highest),
  };
});

export function isLoaded({ survey, settings }: Evidence, row: number): boolean {
  return Math.abs(survey.log.currentA[row] ?? 0) >= settings.verdict.loadedPerHour * survey.ratedCapacityAh;
}

export interface SoundProbe {
  readonly name: string;
  /** NaN where a reading cannot be believed. */
  readonly valuesC: Float64Array;
}

/** Probes that are not at fault. */
export const soundProbes = oncePerEvidence<readonly SoundProbe[]>(({ survey, probeFaults }) =>
  survey.log.temperatures
    .filter(({ name }) => !probeFaults.some((fault) => fault.probe === name))
    .map(({ name, valuesC }) => ({ name, valuesC: within(valuesC, survey.gates.temperaturePlausibleC) })),
);

function heldSpreadK(columns: readonly Float64Array[], counts: (row: number) => boolean): number | null {
  if (columns.length < 2) return null;
  const widest = new Float64Array(rowsHeld).fill(Number.NEGATIVE_INFINITY);
  const rows = columns[0]?.length ?? 0;
  for (let row = 0; row < rows; row += 1) {
    if (!counts(row)) continue;
    const spreadK = spreadOfAll(columns, row);
    // Ascending: the narrowest of the widest stands first.
    if (spreadK > (widest[0] ?? 0)) {
      widest[0] = spreadK;
      widest.sort();
    }
  }
  const held = widest[0] ?? Number.NEGATIVE_INFINITY;
  return Number.isFinite(held) ? held : null;
}

/** Highest less lowest of the probes, K; NaN in a row in which one of them does not read. */
function spreadOfAll(columns: readonly Float64Array[], row: number): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const column of columns) {
    const warm = column[row] ?? Number.NaN;
    if (Number.isNaN(warm)) return Number.NaN;
    if (warm < low) low = warm;
    if (warm > high) high = warm;
  }
  return high - low;
}

/** The column itself where every reading can be believed, which most of the time spares a copy of it. */
function within(valuesC: Float64Array, [low, high]: readonly [number, number]): Float64Array {
  const { lowest, highest } = rangeOf(valuesC);
  if (lowest >= low && highest <= high) return valuesC;
  return valuesC.map((warm) => (warm >= low && warm <= high ? warm : Number.NaN));
}
