import type { Evidence } from "@/lib/diagnosis/evidence";
import { lostCharge } from "@/lib/diagnosis/lost-charge";

/**
 * W that keep one place of a parked pack a kelvin warmer than the rest, at least: what a group packed in 10 mm of foam over 200 cm² loses
 * (0.03 W/(m K), from memory); next to other groups, metal or air it loses more. Engineering default.
 */
const leastWattPerKelvin = 0.05;
/** Standard errors by which a fall may be faster than it is read. Engineering default. */
const errorsAllowed = 2;
const hoursPerDay = 24;

/**
 * Whether a group may keep a place so much warmer at rest: heat inside a cell comes out of its charge, so that a group which holds its charge
 * makes none. Also true where no rest of days, or no curve of its own, tells what each group loses.
 */
export function mayWarm(evidence: Evidence, aboveK: number): boolean {
  const { drift, model, doubtfulGroups } = evidence;
  if (drift === null) return true;
  const neededW = leastWattPerKelvin * aboveK;
  return Array.from(drift.millivoltPerDay).some((rate, index) => {
    const error = drift.errorMillivoltPerDay[index] ?? Number.NaN;
    const millivoltPerDay = Math.max(0, -rate) + errorsAllowed * error;
    if (doubtfulGroups.has(index + 1) || !Number.isFinite(millivoltPerDay)) return true;
    const lost = lostCharge(evidence, drift, { group: index + 1, millivoltPerDay, error: 0 });
    const percentPerDay = lost?.mostPercentPerDay ?? (millivoltPerDay > 0 ? Number.POSITIVE_INFINITY : 0);
    const lostA = ((percentPerDay / 100) * model.ratedCapacityAh) / hoursPerDay;
    return !(lostA * drift.referenceV < neededW);
  });
}
