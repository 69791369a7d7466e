import type { PackModel } from "@/lib/packs/pack-model";
import { type OpenCircuitCurve, openCircuitCurve } from "./open-circuit-curve";
import type { SeededRandom } from "./seeded-random";

/** One simulated pack: what it is made of (changes only by a fault) and its present state. Index 0 is group 1. */
export interface SimulatedPack {
  readonly groups: number;
  readonly curve: OpenCircuitCurve;
  readonly capacityAh: Float64Array;
  readonly ohmicOhm: Float64Array;
  readonly fastOhm: Float64Array;
  readonly slowOhm: Float64Array;
  readonly curveOffsetV: Float64Array;
  /** Current that drains a group from inside, A. */
  readonly leakA: Float64Array;
  /** Resistance of welds and links inside the two taps of a group beyond the healthy one. */
  readonly jointOhm: Float64Array;
  /** Resistance between the stack and the terminals: shunt, switches, leads. */
  pathOhm: number;
  readonly soc: Float64Array;
  readonly fastV: Float64Array;
  readonly slowV: Float64Array;
  /** Seconds since a group was shorted from inside; negative while it is sound. */
  readonly shortedForS: Float64Array;
  readonly heatCapacityJPerK: number;
  readonly coolingWPerK: number;
  readonly ambientC: number;
  bodyC: number;
  readonly probeC: Float64Array;
  readonly probeExtraW: Float64Array;
  stageC: number;
  readonly stageKPerA2: number;
}

export interface PackCondition {
  /** Measured when built; falls with age by `agedCapacityFactor`. */
  readonly capacityAh: number;
  readonly agedCapacityFactor: number;
  readonly groupResistanceMilliohm: readonly number[];
  readonly agedResistanceFactor: number;
  readonly startSoc: number;
  readonly ambientC: number;
}

// Split of the 10 s resistance over the elements of a cell: engineering defaults typical of power cells, no authority.
const ohmicShare = 0.62;
const fastShare = 0.42;
const slowShare = 0.9;
/** Pack-level specific energy and heat capacity used to guess the mass: engineering defaults. */
const specificEnergyWhPerKg = 150;
const specificHeatJPerKgK = 1000;
const meanCellV = 3.6;
const probes = 3;
/** Rise of the power stage over the body at the continuous current, K: engineering default. */
const stageRiseAtContinuousK = 32;

/** A healthy pack of the model, rested, with the small differences between groups that every pack has. */
export function buildSimulatedPack(model: PackModel, condition: PackCondition, random: SeededRandom): SimulatedPack {
  const groups = model.groups;
  const massKg = (groups * meanCellV * model.ratedCapacityAh) / specificEnergyWhPerKg;
  const capacityAh = Float64Array.from(
    { length: groups },
    () => condition.capacityAh * condition.agedCapacityFactor * (1 + Math.abs(random.normal(0, 0.004))),
  );
  const tenSecondOhm = Float64Array.from({ length: groups }, (_, k) => {
    const builtMilliohm = condition.groupResistanceMilliohm[k] ?? model.groupResistanceMilliohm ?? 1;
    return (builtMilliohm / 1000) * condition.agedResistanceFactor * (1 + random.normal(0, 0.01));
  });
  // All groups were level at the last full charge; what was taken out since is the same charge for each.
  const takenAh = (1 - condition.startSoc) * condition.capacityAh * condition.agedCapacityFactor;
  return {
    groups,
    curve: openCircuitCurve(model),
    capacityAh,
    ohmicOhm: tenSecondOhm.map((ohm) => ohm * ohmicShare),
    fastOhm: tenSecondOhm.map((ohm) => ohm * fastShare),
    slowOhm: tenSecondOhm.map((ohm) => ohm * slowShare),
    curveOffsetV: Float64Array.from({ length: groups }, () => random.normal(0, 0.0006)),
    leakA: new Float64Array(groups),
    jointOhm: new Float64Array(groups),
    pathOhm: 0.0015,
    soc: capacityAh.map((ah) => 1 - takenAh / ah + random.normal(0, 0.0012)),
    fastV: new Float64Array(groups),
    slowV: new Float64Array(groups),
    shortedForS: new Float64Array(groups).fill(-1),
    heatCapacityJPerK: massKg * specificHeatJPerKgK,
    coolingWPerK: 0.12 * massKg,
    ambientC: condition.ambientC,
    bodyC: condition.ambientC + random.between(0, 1),
    probeC: new Float64Array(probes).fill(condition.ambientC),
    probeExtraW: new Float64Array(probes),
    stageC: condition.ambientC,
    stageKPerA2: stageRiseAtContinuousK / model.continuousDischargeA ** 2,
  };
}
