import type { PackModel } from "@/lib/packs/pack-model";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** What the pack's own counter says, and whether it can be a count of full cycles. */
export interface CountedCycles {
  readonly cycles: number;
  /** Why it is not believed, the rest of a sentence; null where it can be true. */
  readonly doubt: string | null;
}

/** Share by which a count may be off the number that stands for none, for numbers that were stored short. */
const storedWithin = 1e-6;
/** What one open format is known to write in every row where nothing counts cycles: twice pi (its issue list). */
const writtenForNone = 2 * Math.PI;
/** Counts within one log from which they are held against the charge moved meanwhile, and how many times that they may be. Engineering defaults. */
const leastCounted = 2;
const mostOverCharge = 3;

/**
 * The last value of the pack's own counter, tenths of a cycle included; the median of three rows each time, so that one bad frame is none. Some
 * monitors count starts, and one open format is known to write 2π in every row, so it is held against what a count of cycles can
 * be: it never falls, rises by no more than the charge logged meanwhile, and lies no higher than can be charged and ridden
 * since the pack was built. `null` where none was logged.
 */
export function countedCycles(
  { log, intervalS }: RowSurvey,
  model: Pick<PackModel, "ratedCapacityAh" | "chargeMaxA" | "continuousDischargeA">,
  builtUnixS: number | null,
): CountedCycles | null {
  const { cycleCount } = log;
  if (cycleCount === null) return null;
  let risen = 0;
  let falls = false;
  let movedAh = 0;
  // The two counts before this row's.
  let older = Number.NaN;
  let old = Number.NaN;
  let before = Number.NaN;
  let cycles = Number.NaN;
  for (let row = 0; row < log.rows; row += 1) {
    const seconds = row === 0 ? 0 : (intervalS[row] ?? 0);
    const ampere = Math.abs(((log.currentA[row] ?? Number.NaN) + (log.currentA[row - 1] ?? Number.NaN)) / 2);
    if (seconds > 0 && ampere >= 0) movedAh += (ampere * seconds) / 3600;
    const count = cycleCount[row] ?? Number.NaN;
    if (!Number.isFinite(count)) continue;
    const now = middleOf(older, old, count);
    older = old;
    old = count;
    if (now < before) falls = true;
    if (now > before && seconds > 0) risen += now - before;
    before = now;
    cycles = Number.isNaN(now) ? count : now;
  }
  if (Number.isNaN(cycles)) return null;
  const full = movedAh / (2 * model.ratedCapacityAh);
  return { cycles, doubt: doubtOf() };

  function doubtOf(): string | null {
    if (!(cycles >= 0)) return "and no pack has run so few";
    if (risen === 0 && Math.abs(cycles - writtenForNone) <= storedWithin * writtenForNone)
      return "the same in every row, as some boards write where nothing counts";
    if (falls) return "and it falls within the file";
    if (risen >= leastCounted && risen > mostOverCharge * full)
      return `and it rises by ${Number(risen.toFixed(1))} while the charge of ${full.toFixed(1)} full cycles moves: it seems to count starts`;
    const most = mostSinceBuilt();
    return most !== null && cycles > most
      ? `and since the pack was built no more than ${most.toFixed(0)} could be charged and ridden`
      : null;
  }

  function mostSinceBuilt(): number | null {
    if (builtUnixS === null || log.startUnixS === null) return null;
    const hours = (log.startUnixS + (log.timeS.at(-1) ?? 0) - builtUnixS) / 3600;
    const hoursOfOne = model.ratedCapacityAh / model.chargeMaxA + model.ratedCapacityAh / model.continuousDischargeA;
    return hours > 0 ? hours / hoursOfOne : null;
  }
}

/** NaN until there are three. */
function middleOf(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}
