/**
 * A that leave a group so large whose rest voltage falls so fast: capacity · (dV/dt) / slope of the open-circuit curve.
 * Capacity in Ah, fall in V per day, slope in V per % of charge; null where the curve is flat.
 */
export function leakCurrentA(capacityAh: number, fallVPerDay: number, slopeVPerPercent: number): number | null {
  if (!(slopeVPerPercent > 0)) return null;
  return ((fallVPerDay / slopeVPerPercent / 100) * capacityAh) / 24;
}

/** Ohm across a group that would draw this leak at this voltage: V over A. */
export function shortOhm(groupV: number, leakA: number): number {
  return groupV / leakA;
}
