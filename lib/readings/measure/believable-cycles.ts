import type { PackModel } from "@/lib/packs/pack-model";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** What the pack's own counter says, and whether it can be a count of full cycles. */
export interface CountedCycles {
  readonly cycles: number;
  /** Why it is not believed, the rest of a sentence; null where it can be true. */
  readonly doubt: string | null;
}

/** Share of a whole number by which a count may be off, for numbers that were stored short. */
const wholeWithin = 1e-6;
/** Counts within one log from which they are held against the charge moved meanwhile, and how many times that they may be. Engineering defaults. */
const leastCounted = 2;
const mostOverCharge = 3;

/**
 * The last value of the pack's own counter. Some monitors count starts, and one open format is known to write 2π in every row, so it
 * is held against what a count of cycles can be: a whole number that never falls, no more than the charge logged
 * meanwhile, and no more than can be charged and ridden since the pack was built. `null` where none was logged.
 */
export function countedCycles(
  { log, intervalS }: RowSurvey,
  model: Pick<PackModel, "ratedCapacityAh" | "chargeMaxA" | "continuousDischargeA">,
  builtUnixS: number | null,
): CountedCycles | null {
  const cycles = log.cycleCount?.findLast(Number.isFinite);
  if (log.cycleCount === null || cycles === undefined) return null;
  let risen = 0;
  let falls = false;
  let movedAh = 0;
  let before = Number.NaN;
  for (let row = 1; row < log.rows; row += 1) {
    const seconds = intervalS[row] ?? 0;
    const ampere = Math.abs(((log.currentA[row] ?? Number.NaN) + (log.currentA[row - 1] ?? Number.NaN)) / 2);
    if (seconds > 0 && ampere >= 0) movedAh += (ampere * seconds) / 3600;
    const change = (log.cycleCount[row] ?? Number.NaN) - (log.cycleCount[row - 1] ?? before);
    if (Number.isFinite(log.cycleCount[row])) before = log.cycleCount[row] ?? before;
    if (change < 0) falls = true;
    if (change > 0 && seconds > 0) risen += change;
  }
  const full = movedAh / (2 * model.ratedCapacityAh);
  return { cycles, doubt: doubtOf() };

  function doubtOf(): string | null {
    const count = cycles ?? 0;
    if (!(count >= 0) || Math.abs(count - Math.round(count)) > wholeWithin * Math.max(1, count))
      return "and a count of cycles is a whole number";
    if (falls) return "and it falls within the file";
    if (risen >= leastCounted && risen > mostOverCharge * full)
      return `and it rises by ${risen} while the charge of ${full.toFixed(1)} full cycles moves: it seems to count starts`;
    const most = mostSinceBuilt();
    return most !== null && count > most
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
