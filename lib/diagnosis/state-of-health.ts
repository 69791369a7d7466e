export interface StateOfHealth {
  /** Found capacity over the one it was built with, 0 to about 1. */
  readonly share: number;
  /** Lowest and highest share a pack of this age in cycles is expected to hold; null where the cycles are unknown. */
  readonly expected: readonly [number, number] | null;
  /** Below all that is expected by more than twice its uncertainty. */
  readonly early: boolean;
}

/** Share of its rated capacity by which a new pack may lie above or below it (common practice, no source). */
const NEW_PACK_SPREAD = 0.05;
/** Loss at the end of rated cycle life: to 80 % of initial capacity, the common definition in cell data sheets. */
const LOSS_AT_RATED_CYCLES = 0.2;

/**
 * Remaining capacity against what was built and against what is expected of its cycles. Units: Ah in, shares out. RangeError
 * unless all given are positive.
 */
export function stateOfHealth(given: {
  readonly foundAh: number;
  readonly foundErrorAh: number | null;
  readonly builtAh: number;
  readonly cycles: number | null;
  readonly cyclesTo80Percent: number;
}): StateOfHealth {
  const { foundAh, foundErrorAh, builtAh, cycles, cyclesTo80Percent } = given;
  if (!(foundAh > 0 && builtAh > 0 && cyclesTo80Percent > 0)) {
    throw new RangeError("state of health needs positive capacities and rated cycles");
  }
  const share = foundAh / builtAh;
  if (cycles === null || !(cycles >= 0)) return { share, expected: null, early: false };
  const expected = healthBand(cycles, cyclesTo80Percent);
  return { share, expected, early: share < expected[0] - 2 * ((foundErrorAh ?? 0) / builtAh) };
}

/**
 * Where a pack of this age in cycles may lie, lowest and highest share: on a straight line from 100 % to 80 % at the rated cycles,
 * for a factor of two in cycles (61 and 124 to 80 % for B0006 and B0007, NASA PCoE), so the square root of two either way, and with
 * the spread of new packs on both sides.
 */
export function healthBand(cycles: number, cyclesTo80Percent: number): readonly [number, number] {
  const line = (counted: number) => 1 - (LOSS_AT_RATED_CYCLES * counted) / cyclesTo80Percent;
  return [
    Math.max(0, line(cycles * Math.SQRT2) - NEW_PACK_SPREAD),
    Math.max(0, line(cycles * Math.SQRT1_2) + NEW_PACK_SPREAD),
  ];
}
