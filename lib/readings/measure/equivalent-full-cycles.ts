/**
 * Full cycles the logged charge amounts to: Σ|ΔQ| / (2 · rated capacity), trapezoid per interval.
 *
 * A monitor's own cycle counter may count starts; this count is the fair basis for comparing use. Covers only what was
 * logged. `intervalS` is 0 where an interval must not be integrated (gap, clock segment change).
 */
export function equivalentFullCycles(currentA: Float64Array, intervalS: Float64Array, ratedCapacityAh: number): number {
  let movedAs = 0;
  let before = Number.NaN;
  for (const [row, current] of currentA.entries()) {
    const seconds = intervalS[row] ?? 0;
    if (seconds > 0 && Number.isFinite(before) && Number.isFinite(current)) {
      movedAs += Math.abs((current + before) / 2) * seconds;
    }
    before = current;
  }
  return movedAs / 3600 / (2 * ratedCapacityAh);
}
