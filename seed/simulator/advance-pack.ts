import type { SimulatedPack } from "./simulated-pack";

const fastSeconds = 5;
const slowSeconds = 700;
const probeSeconds = 45;
const stageSeconds = 40;
/** Seconds in which a group that is shorted from inside loses its voltage: engineering default. */
const collapseSeconds = 7;
/** Activation temperature of the resistance, K (about 17 kJ/mol): engineering default. */
const activationK = 2000;
const referenceK = 298.15;
/** Local rise of a probe beside a hot spot, K per W: engineering default. */
const hotSpotKPerW = 0.9;

/**
 * Lets the pack live for `seconds` at a constant current (positive when charging). `bleedA` is the balancing current
 * drawn from each group. The two RC pairs and the temperatures are advanced by their exact exponentials, so that a
 * 60 s step at rest is as true as a 1 s step on the road. Heat comes from the resistances only.
 */
export function advancePack(pack: SimulatedPack, currentA: number, bleedA: Float64Array, seconds: number): void {
  const fastKeep = Math.exp(-seconds / fastSeconds);
  const slowKeep = Math.exp(-seconds / slowSeconds);
  const warmth = warmthFactor(pack.bodyC);
  let heatW = 0;
  for (let k = 0; k < pack.groups; k++) {
    const soc = value(pack.soc, k);
    const factor = warmth * emptyFactor(soc);
    const groupA = currentA - value(pack.leakA, k) - value(bleedA, k);
    pack.soc[k] = soc + (groupA * seconds) / (3600 * value(pack.capacityAh, k));
    const fastV = value(pack.fastV, k) * fastKeep + groupA * value(pack.fastOhm, k) * factor * (1 - fastKeep);
    const slowV = value(pack.slowV, k) * slowKeep + groupA * value(pack.slowOhm, k) * factor * (1 - slowKeep);
    pack.fastV[k] = fastV;
    pack.slowV[k] = slowV;
    heatW += currentA * (fastV + slowV + currentA * (value(pack.ohmicOhm, k) * factor + value(pack.jointOhm, k)));
    const shortedForS = value(pack.shortedForS, k);
    if (shortedForS >= 0) {
      pack.shortedForS[k] = shortedForS + seconds;
    }
  }
  advanceTemperatures(pack, currentA, Math.max(0, heatW), seconds);
}

/** Terminal voltage of group k (from 0) at the current that flows now. */
export function groupVoltageV(pack: SimulatedPack, k: number, currentA: number): number {
  const soc = value(pack.soc, k);
  const ohm = value(pack.ohmicOhm, k) * warmthFactor(pack.bodyC) * emptyFactor(soc) + value(pack.jointOhm, k);
  const soundV =
    pack.curve(soc) +
    value(pack.curveOffsetV, k) +
    value(pack.fastV, k) +
    value(pack.slowV, k) +
    (currentA - value(pack.leakA, k)) * ohm;
  const shortedForS = value(pack.shortedForS, k);
  return shortedForS < 0 ? soundV : soundV * Math.exp(-shortedForS / collapseSeconds);
}

/** The current at which the terminals stand at `targetV`: what a charger in its constant-voltage phase delivers. */
export function currentForTerminalVoltageA(pack: SimulatedPack, targetV: number): number {
  let restV = 0;
  let ohm = pack.pathOhm;
  for (let k = 0; k < pack.groups; k++) {
    const zero = groupVoltageV(pack, k, 0);
    restV += zero;
    ohm += groupVoltageV(pack, k, 1) - zero;
  }
  return (targetV - restV) / ohm;
}

function advanceTemperatures(pack: SimulatedPack, currentA: number, heatW: number, seconds: number): void {
  const settledC = pack.ambientC + heatW / pack.coolingWPerK;
  const bodyKeep = Math.exp((-seconds * pack.coolingWPerK) / pack.heatCapacityJPerK);
  pack.bodyC = settledC + (pack.bodyC - settledC) * bodyKeep;
  const probeKeep = Math.exp(-seconds / probeSeconds);
  for (let p = 0; p < pack.probeC.length; p++) {
    // The middle probe sits deepest and is the warmest of a healthy pack.
    const depth = p === 1 ? 0.1 : 0.03;
    const goalC = pack.bodyC + depth * (pack.bodyC - pack.ambientC) + hotSpotKPerW * value(pack.probeExtraW, p);
    pack.probeC[p] = goalC + (value(pack.probeC, p) - goalC) * probeKeep;
  }
  const stageGoalC = pack.bodyC + pack.stageKPerA2 * currentA * currentA;
  pack.stageC = stageGoalC + (pack.stageC - stageGoalC) * Math.exp(-seconds / stageSeconds);
}

function warmthFactor(bodyC: number): number {
  return Math.exp(activationK * (1 / (bodyC + 273.15) - 1 / referenceK));
}

function emptyFactor(soc: number): number {
  return 1 + 0.6 * Math.exp(-Math.max(0, soc) / 0.08);
}

function value(list: Float64Array, k: number): number {
  return list[k] ?? 0;
}
