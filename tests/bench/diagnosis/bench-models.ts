import type { PackModel } from "@/lib/packs/pack-model";
import type { Chance } from "./chance";

export interface BenchModel {
  /** What the diagnosis is told. */
  readonly model: PackModel;
  /** What the cells really do, [charge in %, V], whether the diagnosis is told or not. */
  readonly trueCurve: readonly (readonly [number, number])[];
  readonly trueGroupOhm: number;
  readonly chemistry: Chemistry;
}

export type Chemistry = "mid-nickel" | "high-power" | "manganese blend" | "iron phosphate";

interface Cell {
  readonly cellV: readonly [number, number];
  readonly curve: readonly (readonly [number, number])[];
}

/**
 * Rest voltages at 0, 5 … 100 %. Mid-nickel: a graphite/NMC532 pouch, Mohtat et al. 2020, computed from the half-cell
 * fits and stoichiometries as coded in PyBaMM (BSD-3, commit 1b01e77) between 2.8 and 4.2 V (4.97 Ah; the set states 5.0), and in no way
 * the curve the diagnosis falls back on. High-power: Ecker et al. 2015, same place. Manganese blend and iron phosphate: invented in the manner of the chemistry.
 */
const volts: Readonly<Record<Chemistry, readonly number[]>> = {
  "mid-nickel": [
    2.8, 3.462, 3.5107, 3.5395, 3.5847, 3.6202, 3.6389, 3.6538, 3.671, 3.6914, 3.7155, 3.7446, 3.7968, 3.8399, 3.8797,
    3.9232, 3.9705, 4.0216, 4.0767, 4.136, 4.2,
  ],
  "high-power": [
    2.5, 3.2938, 3.4586, 3.5277, 3.587, 3.6565, 3.7094, 3.743, 3.77, 3.7805, 3.7873, 3.7979, 3.8155, 3.8417, 3.8823,
    3.94, 3.9868, 4.0304, 4.0789, 4.1353, 4.2,
  ],
  "manganese blend": [
    3.0, 3.34, 3.47, 3.55, 3.6, 3.64, 3.675, 3.71, 3.75, 3.79, 3.825, 3.86, 3.895, 3.93, 3.965, 3.995, 4.025, 4.055,
    4.09, 4.13, 4.2,
  ],
  "iron phosphate": [
    2.6, 3.03, 3.17, 3.21, 3.235, 3.255, 3.272, 3.281, 3.287, 3.29, 3.293, 3.297, 3.304, 3.316, 3.327, 3.331, 3.333,
    3.336, 3.339, 3.347, 3.5,
  ],
};

function cellOf(chemistry: Chemistry): Cell {
  const curve = volts[chemistry].map((volt, place) => [5 * place, volt] as const);
  return { curve, cellV: chemistry === "iron phosphate" ? [2.5, 3.65] : [2.8, 4.2] };
}

/** A pack model nobody tuned for: 13 to 24 groups, 10 to 60 Ah, its curve and resistance told or not. */
export function someModel(chance: Chance): BenchModel {
  const chemistry = chance.pick<Chemistry>([
    "mid-nickel",
    "mid-nickel",
    "high-power",
    "high-power",
    "manganese blend",
    "iron phosphate",
  ]);
  const { curve, cellV } = cellOf(chemistry);
  const ratedCapacityAh = Math.round(chance.between(10, 60));
  const continuousDischargeA = Math.round(ratedCapacityAh * chance.between(1.5, 4));
  // Resistance of a group falls with its size: about 35 to 70 mohm·Ah for power cells, common practice, no source.
  const trueGroupOhm = chance.between(0.03, 0.065) / ratedCapacityAh;
  const table = shortTable(curve, chance);
  return {
    chemistry,
    trueCurve: curve,
    trueGroupOhm,
    model: {
      groups: chance.integer(13, 24),
      parallel: chance.integer(1, 8),
      ratedCapacityAh,
      cellMaxV: cellV[1],
      cellMinV: cellV[0],
      continuousDischargeA,
      peakDischargeA: Math.round(continuousDischargeA * chance.between(1.4, 2)),
      peakSeconds: chance.pick([5, 10, 15, 30]),
      chargeMaxA: Math.max(4, Math.round(ratedCapacityAh * chance.between(0.3, 1))),
      chargeMinTemperatureC: 0,
      chargeMaxTemperatureC: 45,
      cyclesTo80Percent: chance.pick([500, 800, 1000, 2000]),
      ...(chance.happens(0.75) ? { groupResistanceMilliohm: trueGroupOhm * 1000 * chance.between(0.85, 1.15) } : {}),
      ...(chance.happens(0.8) ? { openCircuit: table } : {}),
    },
  };
}

/** A data sheet gives fewer points than the cell has, rounded to a millivolt. */
function shortTable(curve: readonly (readonly [number, number])[], chance: Chance): [number, number][] {
  const coarse = chance.happens(0.3);
  return curve
    .filter(([percent]) => !coarse || percent % 10 === 0)
    .map(([percent, volt]) => [percent, Math.round(volt * 1000) / 1000]);
}
