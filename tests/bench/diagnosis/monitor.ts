import type { PackModel } from "@/lib/packs/pack-model";
import type { Chance } from "./chance";
import { groupV, type Pack } from "./pack-physics";

/** How one monitoring board measures and logs. Every pack has its own. */
export interface Monitor {
  readonly intervalS: number;
  readonly parkedIntervalS: number;
  /** "stale": a few groups are refreshed per row, so that a row mixes moments. */
  readonly sampling: "instant" | "averaged" | "stale";
  readonly noiseV: number;
  readonly stepV: number;
  readonly channelErrorV: Float64Array;
  readonly packNoiseV: number;
  readonly packStepV: number;
  readonly packOffsetV: number;
  readonly packGain: number;
  readonly currentOffsetA: number;
  readonly currentGain: number;
  readonly currentNoiseA: number;
  readonly currentStepA: number;
  readonly leadOhm: Float64Array;
  readonly bleedA: number;
  readonly probes: readonly Probe[];
  readonly probeNoiseK: number;
  readonly probeStepK: number;
}

export interface Probe {
  /** Group it sits on, from 0. */
  readonly on: number;
  readonly offsetK: number;
  readonly followsS: number;
}

export function someMonitor(model: PackModel, chance: Chance, intervalS: number): Monitor {
  const groups = model.groups;
  const count = chance.integer(2, 5);
  const stepV = chance.pick([0.001, 0.001, 0.001, 0.002, 0.005]);
  return {
    intervalS,
    parkedIntervalS: Math.max(intervalS, chance.pick([10, 30, 60])),
    sampling: chance.happens(0.06) ? "stale" : chance.happens(0.25) ? "averaged" : "instant",
    noiseV: chance.between(0.0003, 0.003),
    stepV,
    channelErrorV: Float64Array.from({ length: groups }, () => chance.normal(0.0007)),
    packNoiseV: chance.between(0.003, 0.03),
    packStepV: chance.pick([0.001, 0.01, 0.01, 0.1]),
    packOffsetV: chance.pick([0, 0, 0, chance.normal(0.1), chance.normal(1)]),
    packGain: 1 + chance.normal(0.0005),
    currentOffsetA: chance.normal(0.001 * model.ratedCapacityAh),
    currentGain: 1 + chance.normal(0.005),
    currentNoiseA: model.continuousDischargeA * chance.between(0.0003, 0.002),
    currentStepA: chance.pick([0.01, 0.1]),
    leadOhm: Float64Array.from({ length: groups + 1 }, () => chance.between(0.01, 0.06)),
    bleedA: chance.between(0.04, 0.15),
    probes: Array.from({ length: count }, (_, place) => ({
      on: Math.round(((place + 0.5) * groups) / count - 0.5),
      offsetK: chance.normal(0.5),
      followsS: chance.between(10, 90),
    })),
    probeNoiseK: chance.between(0.01, 0.15),
    probeStepK: chance.pick([0.1, 0.1, 0.5, 1]),
  };
}

/** Errors that a fault adds to what the board reads, at this moment. */
export interface ReadingErrors {
  /** V at tap 0 (negative end) to tap N. */
  readonly tapV: Float64Array;
  /** V of each channel. */
  readonly channelV: Float64Array;
}

/** Group voltages as the board reads them: noise, channel error, leads under bleed current, taps, resolution. */
export function readGroups(
  pack: Pack,
  monitor: Monitor,
  currentA: number,
  bleedA: Float64Array,
  errors: ReadingErrors,
  chance: Chance,
): Float64Array {
  const read = new Float64Array(pack.groups);
  let lowerV = pinV(monitor, bleedA, errors, 0);
  for (let k = 0; k < pack.groups; k += 1) {
    const upperV = pinV(monitor, bleedA, errors, k + 1);
    const channelV = (monitor.channelErrorV[k] ?? 0) + (errors.channelV[k] ?? 0);
    const volt = groupV(pack, k, currentA) + upperV - lowerV + channelV + chance.normal(monitor.noiseV);
    read[k] = Math.max(0, rounded(volt, monitor.stepV));
    lowerV = upperV;
  }
  return read;
}

/** What a pin reads beside its tap: the fault's error, and bleed currents through the lead. */
function pinV(monitor: Monitor, bleedA: Float64Array, errors: ReadingErrors, tap: number): number {
  return (errors.tapV[tap] ?? 0) - ((bleedA[tap - 1] ?? 0) - (bleedA[tap] ?? 0)) * (monitor.leadOhm[tap] ?? 0);
}

export function readPack(pack: Pack, monitor: Monitor, currentA: number, open: boolean, chance: Chance): number {
  if (open) return Math.max(0, rounded(chance.normal(0.05), monitor.packStepV));
  let sum = currentA * pack.pathOhm;
  for (let k = 0; k < pack.groups; k += 1) sum += groupV(pack, k, currentA);
  return rounded(sum * monitor.packGain + monitor.packOffsetV + chance.normal(monitor.packNoiseV), monitor.packStepV);
}

export function readCurrent(monitor: Monitor, currentA: number, chance: Chance): number {
  const read = currentA * monitor.currentGain + monitor.currentOffsetA + chance.normal(monitor.currentNoiseA);
  return rounded(read, monitor.currentStepA);
}

export function rounded(value: number, step: number): number {
  return Math.round(value / step) * step;
}
