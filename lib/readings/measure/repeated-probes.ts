import { quantile } from "@/lib/readings/measure/median";
import { columnResolution } from "@/lib/readings/measure/resolution";
import type { TemperatureColumn } from "@/lib/readings/reading-log";

/** K. How far a temperature must be from its usual value in a row that says whether it follows the others. Engineering default. */
const movedK = 2;
/** Such rows needed, and shares of them and of all rows in which it must stand where it is said to. Engineering defaults. */
const movedRows = 3;
const ofMovedRows = 0.9;
const ofAllRows = 0.98;
/** K by which two numbers of a log in tenths may differ where they are one; and the coarsest step that is rounding, whole degrees. Engineering defaults. */
const roundingK = 0.06;
const coarsestStepK = 1;

/**
 * The temperatures that are measured, without those that repeat others: a monitor often writes the highest, the lowest or the mean
 * of its probes beside them, and such a column bears out nothing that a probe shows. Only a name without a number is asked, because
 * two probes of a small pack can read alike; and a column that was ever warmer than all others stays, for no heat may be lost with it.
 * O(rows) for each name without a number.
 */
export function probesOfTheirOwn(temperatures: readonly TemperatureColumn[]): readonly TemperatureColumn[] {
  let own = temperatures;
  for (const column of temperatures.toReversed()) {
    if (/\d/.test(column.name)) continue;
    const others = own.filter((other) => other !== column);
    if (
      others.length > 0 &&
      repeats(
        column.valuesC,
        others.map(({ valuesC }) => valuesC),
      )
    )
      own = others;
  }
  return own;
}

function repeats(valuesC: Float64Array, others: readonly Float64Array[]): boolean {
  const usualC = quantile(valuesC, 0.5, 5000);
  if (usualC === null) return false;
  const stepK = Math.min(coarsestStepK, columnResolution(valuesC));
  const isCoarser = others.some((other) => columnResolution(other) < stepK - roundingK);
  const withinK = roundingK + (isCoarser ? stepK : 0);
  const ofMeanK = roundingK + stepK / 2;
  let read = 0;
  let moved = 0;
  // Rows in which it stands at the highest, the lowest and the mean of the others, and those of them in which it has moved.
  const fits = [0, 0, 0];
  const movedFits = [0, 0, 0];
  for (let row = 0; row < valuesC.length; row += 1) {
    const warm = valuesC[row] ?? Number.NaN;
    if (!Number.isFinite(warm)) continue;
    let highest = Number.NEGATIVE_INFINITY;
    let lowest = Number.POSITIVE_INFINITY;
    let sum = 0;
    let count = 0;
    for (const other of others) {
      const beside = other[row] ?? Number.NaN;
      if (!Number.isFinite(beside)) continue;
      if (beside > highest) highest = beside;
      if (beside < lowest) lowest = beside;
      sum += beside;
      count += 1;
    }
    const isMoved = Math.abs(warm - usualC) > movedK;
    if (isMoved && warm > highest + Math.max(withinK, ofMeanK)) return false;
    read += 1;
    if (isMoved) moved += 1;
    for (let at = 0; at < fits.length; at += 1) {
      const shown = at === 0 ? highest : at === 1 ? lowest : sum / count;
      if (!(Math.abs(warm - shown) <= (at === 2 ? ofMeanK : withinK))) continue;
      fits[at] = (fits[at] ?? 0) + 1;
      if (isMoved) movedFits[at] = (movedFits[at] ?? 0) + 1;
    }
  }
  return fits.some(
    (fit, at) => moved >= movedRows && (movedFits[at] ?? 0) >= ofMovedRows * moved && fit >= ofAllRows * read,
  );
}
