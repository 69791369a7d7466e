import { type OpenCircuitCurve, voltageAtSoc } from "@/lib/readings/measure/open-circuit";

/** Grid from -20 to 120 % in steps of 0.5 %: fine against any table, and look-ups need no search. */
const firstPercent = -20;
const stepPercent = 0.5;
const places = 281;
/** Half-width in grid places of the central difference for the slope: 2.5 %, so that corners of a table do not show. */
const slopePlaces = 5;

/** An open-circuit curve on an even grid of charge. */
export interface CurveGrid {
  readonly voltageV: Float64Array;
}

export function gridOfCurve(curve: OpenCircuitCurve): CurveGrid {
  return {
    voltageV: Float64Array.from({ length: places }, (_, place) =>
      voltageAtSoc(curve, firstPercent + place * stepPercent),
    ),
  };
}

/** V at a charge in %, straight between grid places, held at the ends of the grid. */
export function gridVoltage(grid: CurveGrid, percent: number): number {
  const position = Math.min(places - 1.001, Math.max(0, (percent - firstPercent) / stepPercent));
  const below = Math.floor(position);
  const low = grid.voltageV[below] ?? 0;
  return low + (position - below) * ((grid.voltageV[below + 1] ?? low) - low);
}

/** V per % around a charge. */
export function gridSlope(grid: CurveGrid, percent: number): number {
  const middle = Math.min(
    places - 1 - slopePlaces,
    Math.max(slopePlaces, Math.round((percent - firstPercent) / stepPercent)),
  );
  const rise = (grid.voltageV[middle + slopePlaces] ?? 0) - (grid.voltageV[middle - slopePlaces] ?? 0);
  return rise / (2 * slopePlaces * stepPercent);
}

/** % at a voltage; the grid need not be strictly rising everywhere: the first crossing by bisection is taken. */
export function gridPercent(grid: CurveGrid, voltageV: number): number {
  let low = 0;
  let high = places - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((grid.voltageV[middle] ?? 0) <= voltageV) low = middle;
    else high = middle;
  }
  const from = grid.voltageV[low] ?? 0;
  const rise = (grid.voltageV[high] ?? 0) - from;
  const part = rise > 0 ? Math.min(1, Math.max(0, (voltageV - from) / rise)) : 0;
  return firstPercent + (low + part) * stepPercent;
}

/** Rows a bin needs before the log's own voltage corrects the table there. Engineering default. */
const rowsPerBin = 12;
const binPercent = 2.5;

/**
 * The curve corrected by what the pack itself shows: the median of `leftV` (voltage not explained) per 2.5 % of charge,
 * straight between bins, constant beyond the charge covered. Comparing groups needs this pack's curve, not a type's.
 */
export function sharpenGrid(grid: CurveGrid, percents: Float64Array, leftV: Float64Array): CurveGrid {
  const bins = new Map<number, number[]>();
  for (const [place, percent] of percents.entries()) {
    const left = leftV[place] ?? Number.NaN;
    if (!Number.isFinite(left + percent)) continue;
    const bin = Math.round(percent / binPercent);
    const members = bins.get(bin);
    if (members === undefined) bins.set(bin, [left]);
    else members.push(left);
  }
  const knots = [...bins]
    .filter(([, members]) => members.length >= rowsPerBin)
    .toSorted((a, b) => a[0] - b[0])
    .map(([bin, members]) => ({
      percent: bin * binPercent,
      leftV: members.sort((a, b) => a - b)[members.length >> 1] ?? 0,
    }));
  if (knots.length === 0) return grid;
  return {
    voltageV: grid.voltageV.map((volt, place) => volt + betweenKnots(knots, firstPercent + place * stepPercent)),
  };
}

function betweenKnots(knots: readonly { percent: number; leftV: number }[], percent: number): number {
  const after = knots.findIndex((knot) => knot.percent >= percent);
  const high = knots[after] ?? knots.at(-1);
  const low = after > 0 ? knots[after - 1] : high;
  if (high === undefined || low === undefined) return 0;
  if (after < 0 || high.percent === low.percent) return high.leftV;
  return low.leftV + ((percent - low.percent) / (high.percent - low.percent)) * (high.leftV - low.leftV);
}
