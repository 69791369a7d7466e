import type { BenchModel } from "./bench-models";
import { type CellCurve, cellCurve } from "./cell-curve";
import type { Chance } from "./chance";

/** A pack as it is, not as it is read. Index 0 is group 1. A fault changes these arrays or the numbers beside them. */
export interface Pack {
  readonly groups: number;
  readonly curve: CellCurve;
  readonly ratedAh: number;
  readonly capacityAh: Float64Array;
  readonly ohmicOhm: Float64Array;
  readonly fastOhm: Float64Array;
  readonly slowOhm: Float64Array;
  readonly fastS: number;
  readonly slowS: number;
  readonly activationK: number;
  readonly jointOhm: Float64Array;
  readonly leakA: Float64Array;
  readonly percent: Float64Array;
  readonly fastV: Float64Array;
  readonly slowV: Float64Array;
  /** Hysteresis state, -1 to 1, and its size, V. */
  readonly lag: Float64Array;
  readonly lagV: number;
  readonly warmC: Float64Array;
  readonly groupJPerK: number;
  readonly toNextWPerK: number;
  readonly toAirWPerK: Float64Array;
  /** Heat from no current: a short inside, W. */
  readonly ownHeatW: Float64Array;
  /** Part of its voltage a group has lost to an inner short, 0 to 1. */
  readonly lost: Float64Array;
  pathOhm: number;
  ambientC: number;
  stageC: number;
  stageKPerA2: number;
  readonly stageS: number;
}

/** A sound pack with the scatter sound packs have. */
export function soundPack(bench: BenchModel, startPercent: number, ambientC: number, chance: Chance): Pack {
  const { model } = bench;
  const { groups, ratedCapacityAh } = model;
  const ageing = chance.between(0.84, 1.03);
  const capacitySd = chance.between(0.003, 0.012);
  const resistanceSd = chance.between(0.008, 0.03);
  const offsetSd = chance.between(0.1, 0.6);
  const ohmicShare = chance.between(0.4, 0.7);
  const slowShare = chance.between(0.3, 0.9);
  const grown = chance.between(0.9, 1.35);
  const groupKg = Math.max(0.2, (3.6 * ratedCapacityAh) / 160);
  const column = (value: (k: number) => number) => Float64Array.from({ length: groups }, (_, k) => value(k));
  const ohm = column(() => bench.trueGroupOhm * grown * (1 + chance.normal(resistanceSd)));
  return {
    groups,
    curve: cellCurve(bench.trueCurve, chance.between(0, 0.004), chance.between(0, 6.28)),
    ratedAh: ratedCapacityAh,
    capacityAh: column(() => ratedCapacityAh * ageing * (1 + chance.normal(capacitySd))),
    ohmicOhm: ohm.map((one) => one * ohmicShare),
    fastOhm: ohm.map((one) => one * (1 - ohmicShare)),
    slowOhm: ohm.map((one) => one * slowShare),
    fastS: chance.between(1, 12),
    slowS: chance.between(90, 900),
    activationK: chance.between(1200, 3200),
    jointOhm: new Float64Array(groups),
    leakA: column(() => Math.abs(chance.normal(0.000006)) * ratedCapacityAh),
    percent: column(() => startPercent + chance.normal(offsetSd)),
    fastV: new Float64Array(groups),
    slowV: new Float64Array(groups),
    lag: new Float64Array(groups).fill(-1),
    lagV: bench.chemistry === "iron phosphate" ? chance.between(0.004, 0.012) : chance.between(0, 0.004),
    warmC: new Float64Array(groups).fill(ambientC),
    groupJPerK: 1000 * groupKg,
    toNextWPerK: chance.between(0.3, 2),
    toAirWPerK: column((k) => groupKg * chance.between(0.04, 0.07) * (k === 0 || k === groups - 1 ? 1.8 : 1)),
    ownHeatW: new Float64Array(groups),
    lost: new Float64Array(groups),
    pathOhm: chance.between(0.0006, 0.004),
    ambientC,
    stageC: ambientC,
    stageKPerA2: chance.between(15, 40) / model.continuousDischargeA ** 2,
    stageS: chance.between(20, 90),
  };
}

/** Resistance at the present warmth and charge over the one at 25 degC and half charge. */
export function resistanceFactor(pack: Pack, k: number): number {
  const warm = Math.exp(pack.activationK * (1 / ((pack.warmC[k] ?? 25) + 273.15) - 1 / 298.15));
  const percent = pack.percent[k] ?? 50;
  return percent > 40 ? warm : warm * (1 + 0.8 * Math.exp(-Math.max(0, percent) / 7));
}

/** Lets `seconds` pass at a constant current (charging positive); `bleedA` is drawn from each group besides. */
export function advance(pack: Pack, currentA: number, bleedA: Float64Array, seconds: number): void {
  const keepFast = Math.exp(-seconds / pack.fastS);
  const keepSlow = Math.exp(-seconds / pack.slowS);
  const heat = new Float64Array(pack.groups);
  for (let k = 0; k < pack.groups; k += 1) {
    const own = currentA - (pack.leakA[k] ?? 0) - (bleedA[k] ?? 0);
    const factor = resistanceFactor(pack, k);
    const movedPercent = (own * seconds) / 36 / (pack.capacityAh[k] ?? 1);
    pack.percent[k] = (pack.percent[k] ?? 0) + movedPercent;
    const towards = Math.sign(movedPercent);
    pack.lag[k] = towards + ((pack.lag[k] ?? 0) - towards) * Math.exp(-Math.abs(movedPercent) / 4);
    pack.fastV[k] = (pack.fastV[k] ?? 0) * keepFast + own * (pack.fastOhm[k] ?? 0) * factor * (1 - keepFast);
    pack.slowV[k] = (pack.slowV[k] ?? 0) * keepSlow + own * (pack.slowOhm[k] ?? 0) * factor * (1 - keepSlow);
    const ohmicV = currentA * ((pack.ohmicOhm[k] ?? 0) * factor + (pack.jointOhm[k] ?? 0));
    heat[k] = Math.max(0, currentA * (ohmicV + (pack.fastV[k] ?? 0) + (pack.slowV[k] ?? 0))) + (pack.ownHeatW[k] ?? 0);
  }
  const parts = Math.max(1, Math.ceil(seconds / 30));
  for (let part = 0; part < parts; part += 1) warm(pack, heat, seconds / parts);
  const goalC = mean(pack.warmC) + pack.stageKPerA2 * currentA * currentA;
  pack.stageC = goalC + (pack.stageC - goalC) * Math.exp(-seconds / pack.stageS);
}

function warm(pack: Pack, heat: Float64Array, seconds: number): void {
  const before = pack.warmC.slice();
  for (let k = 0; k < pack.groups; k += 1) {
    const here = before[k] ?? 0;
    const left = before[k - 1] ?? here;
    const right = before[k + 1] ?? here;
    const flow =
      (heat[k] ?? 0) +
      pack.toNextWPerK * (left + right - 2 * here) +
      (pack.toAirWPerK[k] ?? 0) * (pack.ambientC - here);
    pack.warmC[k] = here + (flow * seconds) / pack.groupJPerK;
  }
}

export function mean(values: Float64Array): number {
  return values.reduce((sum, one) => sum + one, 0) / values.length;
}

/** Voltage between the two taps of group k (from 0) while `currentA` flows. */
export function groupV(pack: Pack, k: number, currentA: number): number {
  const ohm = (pack.ohmicOhm[k] ?? 0) * resistanceFactor(pack, k) + (pack.jointOhm[k] ?? 0);
  const whole =
    pack.curve(pack.percent[k] ?? 0) +
    pack.lagV * (pack.lag[k] ?? 0) +
    (pack.fastV[k] ?? 0) +
    (pack.slowV[k] ?? 0) +
    currentA * ohm;
  return whole * (1 - (pack.lost[k] ?? 0));
}

/** Current at which the terminals stand at `volt`: what a charger gives in its constant-voltage phase. */
export function currentAtTerminalV(pack: Pack, volt: number): number {
  let rest = 0;
  let ohm = pack.pathOhm;
  for (let k = 0; k < pack.groups; k += 1) {
    const none = groupV(pack, k, 0);
    rest += none;
    ohm += groupV(pack, k, 1) - none;
  }
  return (volt - rest) / ohm;
}
