import type { PackModel } from "@/lib/packs/pack-model";

/** Rest voltage of one cell, V, for a state of charge given as a fraction; defined a little beyond 0 and 1 as well. */
export type OpenCircuitCurve = (socFraction: number) => number;

/** Steepness outside the table, V per percent, and the lowest voltage reached. Engineering defaults, no authority. */
const belowEmptyVPerPercent = 0.25;
const aboveFullVPerPercent = 0.05;
const floorV = 0.15;
const gridPoints = 4000;

/**
 * A smooth curve through the model's table: monotone cubic Hermite with slopes limited as in Fritsch and Carlson (1980),
 * "Monotone piecewise cubic interpolation", SIAM J. Numer. Anal. 17(2), tabulated on a fine grid for speed.
 * A cell does not know the straight lines a reader draws between table points, and neither does this one.
 */
export function openCircuitCurve(model: PackModel): OpenCircuitCurve {
  const table = model.openCircuit;
  if (table === undefined) {
    throw new RangeError("openCircuit: the simulator needs the model's rest voltage table");
  }
  const percents = table.map(([percent]) => percent);
  const volts = table.map(([, volt]) => volt);
  const grid = new Float64Array(gridPoints + 1);
  const slopes = limitedSlopes(percents, volts);
  for (let i = 0; i <= gridPoints; i++) {
    grid[i] = hermite(percents, volts, slopes, (100 * i) / gridPoints);
  }
  const emptyV = grid[0] ?? 0;
  const fullV = grid[gridPoints] ?? 0;

  return (socFraction) => {
    if (socFraction <= 0) {
      return Math.max(floorV, emptyV + belowEmptyVPerPercent * 100 * socFraction);
    }
    if (socFraction >= 1) {
      return fullV + aboveFullVPerPercent * 100 * (socFraction - 1);
    }
    const at = socFraction * gridPoints;
    const left = Math.floor(at);
    const leftV = grid[left] ?? emptyV;
    return leftV + (at - left) * ((grid[left + 1] ?? fullV) - leftV);
  };
}

function limitedSlopes(x: readonly number[], y: readonly number[]): number[] {
  const secants = x.slice(1).map((_, i) => (at(y, i + 1) - at(y, i)) / (at(x, i + 1) - at(x, i)));
  const slopes = x.map((_, i) => {
    const before = secants[i - 1] ?? at(secants, i);
    const after = secants[i] ?? before;
    return before * after <= 0 ? 0 : (2 * before * after) / (before + after);
  });
  return slopes;
}

function hermite(x: readonly number[], y: readonly number[], slopes: readonly number[], percent: number): number {
  let i = 0;
  while (i < x.length - 2 && percent > at(x, i + 1)) {
    i++;
  }
  const width = at(x, i + 1) - at(x, i);
  const t = Math.min(1, Math.max(0, (percent - at(x, i)) / width));
  const u = 1 - t;
  return (
    (1 + 2 * t) * u * u * at(y, i) +
    t * u * u * width * at(slopes, i) +
    t * t * (3 - 2 * t) * at(y, i + 1) -
    t * t * u * width * at(slopes, i + 1)
  );
}

function at(list: readonly number[], i: number): number {
  const value = list[i];
  if (value === undefined) {
    throw new RangeError(`openCircuit: no point ${i}`);
  }
  return value;
}
