import type { PackModel } from "@/lib/packs/pack-model";

export interface OpenCircuitCurve {
  readonly socPercent: readonly number[];
  readonly voltageV: readonly number[];
  /** A generic curve serves for differences between groups of one pack, not for percent-grade claims about the pack. */
  readonly source: "pack model" | "generic NMC";
}

/**
 * LG M50 (NMC811 / graphite-SiOx) between 2.5 and 4.2 V at 25 degC: the half-cell fits of Chen et al. 2020
 * (doi:10.1149/1945-7111/ab9050) as coded in PyBaMM, parameter set Chen2020, commit 7c9f5bd, BSD-3; computed.
 */
const chen2020: readonly (readonly [number, number])[] = [
  [0, 2.5],
  [5, 3.1094],
  [10, 3.2959],
  [15, 3.4339],
  [20, 3.4852],
  [25, 3.5286],
  [30, 3.5814],
  [35, 3.629],
  [40, 3.667],
  [45, 3.7054],
  [50, 3.7509],
  [55, 3.7983],
  [60, 3.8406],
  [65, 3.8896],
  [70, 3.9479],
  [75, 3.9943],
  [80, 4.0421],
  [85, 4.0809],
  [90, 4.0967],
  [95, 4.1236],
  [100, 4.2],
];

/** Charge limits, V, of cells a nickel-manganese-cobalt curve can stand in for. Engineering default. */
const genericCurveMaxV = [4.1, 4.3] as const;

/** The model's own curve, else the generic one where the cell's charge limit allows it, else `null` (e.g. LFP). */
export function openCircuitCurve(model: PackModel): OpenCircuitCurve | null {
  const own = risingPairs(model.openCircuit ?? []);
  if (own.length >= 2) return { ...columns(own), source: "pack model" };
  const [low, high] = genericCurveMaxV;
  if (model.cellMaxV < low || model.cellMaxV > high) return null;
  return { ...columns(chen2020), source: "generic NMC" };
}

/** V at a state of charge in %; straight continuation beyond the ends of the table. */
export function voltageAtSoc(curve: OpenCircuitCurve, socPercent: number): number {
  return interpolate(curve.socPercent, curve.voltageV, socPercent);
}

/** % at a rest voltage; straight continuation beyond the ends, held within -10 and 110 %. */
export function socAtVoltage(curve: OpenCircuitCurve, voltageV: number): number {
  return Math.min(110, Math.max(-10, interpolate(curve.voltageV, curve.socPercent, voltageV)));
}

/** V per % around a state of charge: central difference over 5 %, so that corners of the table do not show. */
export function slopeAtSoc(curve: OpenCircuitCurve, socPercent: number): number {
  return (voltageAtSoc(curve, socPercent + 2.5) - voltageAtSoc(curve, socPercent - 2.5)) / 5;
}

/** V per %. Doubt of a data sheet's curve in its slope: tables are rounded, cells of one type differ, and so do both directions. Engineering default. */
const slopeDoubtV = 0.0005;

/**
 * Error of the charge between two groups read from their rest voltages, in %, that the curve itself makes: where it is
 * flat, what lies between two voltages is mostly the table's word. 0 for groups alike.
 */
export function differenceDoubt(curve: OpenCircuitCurve, percent: number, otherPercent: number): number {
  const apart = Math.abs(percent - otherPercent);
  const riseV = Math.abs(voltageAtSoc(curve, percent) - voltageAtSoc(curve, otherPercent));
  return apart === 0 ? 0 : (apart * apart * slopeDoubtV) / Math.max(riseV, 1e-6);
}

/** The same doubt as a share of the curve's slope at a state of charge. */
export function slopeDoubtShare(curve: OpenCircuitCurve, socPercent: number): number {
  return slopeDoubtV / Math.max(slopeAtSoc(curve, socPercent), 1e-6);
}

function interpolate(from: readonly number[], to: readonly number[], at: number): number {
  let low = 0;
  let high = from.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((from[middle] ?? 0) <= at) low = middle;
    else high = middle;
  }
  const x0 = from[low] ?? 0;
  const y0 = to[low] ?? 0;
  return y0 + ((at - x0) * ((to[high] ?? 0) - y0)) / ((from[high] ?? 1) - x0);
}

function columns(pairs: readonly (readonly [number, number])[]) {
  return { socPercent: pairs.map(([soc]) => soc), voltageV: pairs.map(([, voltage]) => voltage) };
}

/** A plateau in a table has no inverse: pairs that do not rise in both are left out. */
function risingPairs(pairs: readonly (readonly [number, number])[]): (readonly [number, number])[] {
  const rising: (readonly [number, number])[] = [];
  for (const pair of pairs.toSorted((a, b) => a[0] - b[0])) {
    const last = rising.at(-1);
    if (last === undefined || (pair[0] > last[0] && pair[1] > last[1])) rising.push(pair);
  }
  return rising;
}
