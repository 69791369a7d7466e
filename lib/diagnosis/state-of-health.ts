export interface StateOfHealth {
  /** Found capacity over the one it was built with, 0 to about 1. */
  readonly share: number;
  /** What a pack of this age in cycles is expected to hold; null where the cycles are unknown. */
  readonly expected: number | null;
  /** Below expectation by more than its uncertainty and a margin. */
  readonly early: boolean;
}

/** Points of capacity a pack may lie below its line before it is called early. Engineering default, no authority. */
const MARGIN = 0.05;
/** Loss at the end of rated cycle life: to 80 % of initial capacity, the common definition in cell data sheets. */
const LOSS_AT_RATED_CYCLES = 0.2;

/**
 * Remaining capacity against what was built and against a straight line from 100 % to 80 % at the rated cycles. Real
 * curves bend, and two cells of one type differed by a factor of two in the cycles to 80 % (61 and 124 for B0006 and
 * B0007, NASA PCoE), so the line needs its margin. Units: Ah in, shares out. RangeError unless all given are positive.
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
  const expected = expectedShare(cycles, cyclesTo80Percent);
  const early = share - expected < -(2 * ((foundErrorAh ?? 0) / builtAh) + MARGIN);
  return { share, expected, early };
}

function expectedShare(cycles: number, cyclesTo80Percent: number): number {
  return Math.max(0, 1 - (LOSS_AT_RATED_CYCLES * cycles) / cyclesTo80Percent);
}

/**
 * Where a pack of this age in cycles may lie, lowest and highest share: cells of one type differ by a factor of two in
 * cycles (61 and 124 to 80 % for B0006 and B0007, NASA PCoE), so the square root of two is granted either way.
 */
export function healthBand(cycles: number, cyclesTo80Percent: number): readonly [number, number] {
  return [
    expectedShare(cycles * Math.SQRT2, cyclesTo80Percent),
    expectedShare(cycles * Math.SQRT1_2, cyclesTo80Percent),
  ];
}
