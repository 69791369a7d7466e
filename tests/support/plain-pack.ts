import type { PackModel } from "@/lib/packs/pack-model";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { buildLog } from "@/tests/support/log-builder";
import { seededNormal, seededRandom } from "@/tests/support/seeded-random";

/** One act of use. Currents in A are magnitudes. */
export type Act =
  | { readonly act: "rest"; readonly hours: number }
  | { readonly act: "ride"; readonly minutes: number; readonly meanA: number; readonly peakA: number }
  | { readonly act: "charge"; readonly currentA: number; readonly toPercent: number }
  | { readonly act: "discharge"; readonly currentA: number; readonly toPercent: number };

export interface PlainPack {
  readonly seed: number;
  readonly model: PackModel;
  readonly acts: readonly Act[];
  readonly startPercent?: number;
  readonly intervalS?: number;
  readonly noiseMillivolt?: number;
  readonly resolutionMillivolt?: number;
  readonly capacityScatter?: number;
  readonly resistanceScatter?: number;
  readonly offsetScatterPercent?: number;
  readonly outsideMilliohm?: number;
  readonly currentOffsetA?: number;
  readonly ambientC?: number;
  readonly probes?: number;
  /** Faults: per group number. */
  readonly capacityFactor?: Readonly<Record<number, number>>;
  readonly resistanceFactor?: Readonly<Record<number, number>>;
  readonly jointMilliohm?: Readonly<Record<number, (hour: number) => number>>;
  readonly offsetPercent?: Readonly<Record<number, number>>;
  readonly leakA?: Readonly<Record<number, number>>;
}

interface Group {
  percent: number;
  readonly capacityAh: number;
  readonly ohm: number;
  readonly jointMilliohm: (hour: number) => number;
  readonly leakA: number;
  fastV: number;
  slowV: number;
}

/**
 * A pack of series groups, each an open-circuit curve, an ohmic resistance and two polarisation branches (30 s and
 * 900 s), with cell scatter, one heat node per probe, measurement noise and resolution. It shares nothing with the code
 * under test. The shape is common practice for equivalent circuits, no single source.
 */
export function simulatePack(pack: PlainPack): ReadingLog {
  const uniform = seededRandom(pack.seed);
  const normal = seededNormal(uniform);
  const { model } = pack;
  const intervalS = pack.intervalS ?? 1;
  const groups = Array.from({ length: model.groups }, (_, index) => makeGroup(pack, index + 1, normal));
  const logged = { timeS: noNumbers(), currentA: noNumbers(), packV: noNumbers() };
  const cells = groups.map(noNumbers);
  const ambientC = pack.ambientC ?? 22;
  const heat = Array.from({ length: pack.probes ?? 3 }, () => ({ c: ambientC, gain: 1 + 0.1 * normal() }));
  const probes = heat.map(noNumbers);
  let timeS = 0;
  let nextRowS = 0;

  function step(currentA: number, seconds: number): void {
    const hour = timeS / 3600;
    let packV = ((pack.outsideMilliohm ?? 2) / 1000) * currentA;
    const log = timeS >= nextRowS;
    for (const [index, group] of groups.entries()) {
      group.percent += (((currentA - group.leakA) * seconds) / 3600 / group.capacityAh) * 100;
      group.fastV += (0.5 * group.ohm * currentA - group.fastV) * (1 - Math.exp(-seconds / 30));
      group.slowV += (0.4 * group.ohm * currentA - group.slowV) * (1 - Math.exp(-seconds / 900));
      const volt =
        curveV(model, group.percent) +
        (group.ohm + group.jointMilliohm(hour) / 1000) * currentA +
        group.fastV +
        group.slowV;
      packV += volt;
      if (log) cells[index]?.push(asLogged(volt, pack, normal));
    }
    for (const node of heat) {
      const ohmPerGroup = (model.groupResistanceMilliohm ?? 1) / 1000;
      node.c += (node.gain * currentA ** 2 * ohmPerGroup * seconds) / (20 * model.ratedCapacityAh);
      node.c += (ambientC - node.c) * (1 - Math.exp(-seconds / 7200));
    }
    if (log) {
      logged.timeS.push(timeS);
      logged.currentA.push(currentA + (pack.currentOffsetA ?? 0) + 0.02 * normal());
      logged.packV.push(packV + 0.01 * normal());
      for (const [index, node] of heat.entries()) probes[index]?.push(Math.round((node.c + 0.05 * normal()) * 10) / 10);
      nextRowS += intervalS;
    }
    timeS += seconds;
  }

  for (const act of pack.acts) play(act, step, () => limits(groups), uniform, intervalS);
  return buildLog({
    timeS: logged.timeS,
    currentA: Float64Array.from(logged.currentA),
    packVoltageV: Float64Array.from(logged.packV),
    cellVoltagesV: cells.map((column) => Float64Array.from(column)),
    temperatures: probes.map((column, index) => ({
      name: `Temperature T${index + 1}`,
      valuesC: Float64Array.from(column),
    })),
  });
}

function play(
  act: Act,
  step: (currentA: number, seconds: number) => void,
  limit: () => { lowest: number; highest: number },
  uniform: () => number,
  intervalS: number,
): void {
  if (act.act === "rest") {
    const seconds = Math.min(intervalS, 60);
    for (let at = 0; at < act.hours * 3600; at += seconds) step(0, seconds);
  } else if (act.act === "ride") {
    let left = 0;
    let currentA = 0;
    for (let at = 0; at < act.minutes * 60 && limit().lowest > 2; at += 1) {
      if (left <= 0) {
        left = 3 + 25 * uniform();
        const draw = uniform();
        if (draw < 0.15) currentA = 0;
        else if (draw < 0.22) currentA = 0.3 * act.meanA;
        else currentA = -Math.min(act.peakA, act.meanA * (0.3 + 2 * uniform() ** 1.5));
      }
      left -= 1;
      step(currentA, 1);
    }
  } else if (act.act === "charge") {
    let currentA = act.currentA;
    while (limit().highest < act.toPercent && currentA > 0.05 * act.currentA) {
      if (limit().highest > act.toPercent - 3) currentA *= 0.995;
      step(currentA, Math.min(intervalS, 10));
    }
  } else {
    while (limit().lowest > act.toPercent) step(-act.currentA, Math.min(intervalS, 10));
  }
}

function limits(groups: readonly Group[]) {
  return {
    lowest: Math.min(...groups.map((group) => group.percent)),
    highest: Math.max(...groups.map((group) => group.percent)),
  };
}

function makeGroup(pack: PlainPack, number: number, normal: () => number): Group {
  const ohm =
    ((pack.model.groupResistanceMilliohm ?? 1) / 1000 / 1.2) * (1 + (pack.resistanceScatter ?? 0.03) * normal());
  const capacity = pack.model.ratedCapacityAh * (1 + (pack.capacityScatter ?? 0.01) * normal());
  return {
    percent:
      (pack.startPercent ?? 95) + (pack.offsetScatterPercent ?? 0.7) * normal() + (pack.offsetPercent?.[number] ?? 0),
    capacityAh: capacity * (pack.capacityFactor?.[number] ?? 1),
    ohm: ohm * (pack.resistanceFactor?.[number] ?? 1),
    jointMilliohm: pack.jointMilliohm?.[number] ?? (() => 0),
    leakA: pack.leakA?.[number] ?? 0,
    fastV: 0,
    slowV: 0,
  };
}

function asLogged(volt: number, pack: PlainPack, normal: () => number): number {
  const resolutionV = (pack.resolutionMillivolt ?? 1) / 1000;
  return Math.round((volt + ((pack.noiseMillivolt ?? 1) / 1000) * normal()) / resolutionV) * resolutionV;
}

function curveV(model: PackModel, percent: number): number {
  const table = model.openCircuit ?? [
    [0, 3],
    [100, 4.2],
  ];
  let place = 1;
  while (place < table.length - 1 && (table[place]?.[0] ?? 0) < percent) place += 1;
  const [x0, y0] = table[place - 1] ?? [0, 3];
  const [x1, y1] = table[place] ?? [100, 4.2];
  // Below empty a cell falls steeply.
  const steep = percent < 0 ? 0.06 * percent : 0;
  return y0 + ((Math.max(percent, 0) - x0) * (y1 - y0)) / (x1 - x0) + steep;
}

function noNumbers(): number[] {
  return [];
}
