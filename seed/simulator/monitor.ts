import type { PackModel } from "@/lib/packs/pack-model";
import { groupVoltageV } from "./advance-pack";
import type { FaultPlan } from "./fault-plan";
import type { SeededRandom } from "./seeded-random";
import type { SimulatedPack } from "./simulated-pack";

/** The pack's own monitoring board: what it reads is not what is, within its noise, steps and faults. */
export interface Monitor {
  readonly random: SeededRandom;
  readonly plan: FaultPlan;
  readonly currentOffsetA: number;
  readonly currentGain: number;
  readonly packGain: number;
  /** Last readings, for its protection and balancing. */
  readonly cellV: Float64Array;
  packV: number;
  currentA: number;
  /** Counted charge as a fraction. */
  soc: number;
  balancing: boolean[];
  readonly bleedA: Float64Array;
  chargeOn: boolean;
  dischargeOn: boolean;
  /** The vehicle is locked: discharging is commanded off whatever the voltages say. */
  lockedOff: boolean;
  /** SunSpec 802 `Evt1`. */
  flags: number;
  readonly tapErrorV: Float64Array;
  blockErrorV: number;
}

export function buildMonitor(pack: SimulatedPack, plan: FaultPlan, startSoc: number, random: SeededRandom): Monitor {
  return {
    random,
    plan,
    currentOffsetA: random.normal(0, 0.012),
    currentGain: 1 + random.normal(0, 0.0012),
    packGain: 1 + random.normal(0, 0.0003),
    cellV: new Float64Array(pack.groups),
    packV: 0,
    currentA: 0,
    soc: Math.max(0, startSoc + random.normal(0, 0.008)),
    balancing: new Array<boolean>(pack.groups).fill(false),
    bleedA: new Float64Array(pack.groups),
    chargeOn: true,
    dischargeOn: true,
    lockedOff: false,
    flags: 0,
    tapErrorV: new Float64Array(pack.groups + 1),
    blockErrorV: 0,
  };
}

/** Noise and steps of the board: engineering defaults for a common monitoring chip. */
const cellNoiseV = 0.0005;
const cellStepV = 0.001;
const packNoiseV = 0.006;
const packStepV = 0.01;
const currentNoiseA = 0.03;
const currentStepA = 0.01;
const probeNoiseK = 0.04;
/** The highest temperature the board can read. */
const probeRailC = 150;
/** Below this the board reports no current at all. */
const currentDeadBandA = 0.16;

/** Reads all groups, the pack and the current at the current that flows now, and goes on counting the charge. */
export function readPack(
  monitor: Monitor,
  pack: SimulatedPack,
  model: PackModel,
  currentA: number,
  seconds: number,
): void {
  const { random, plan } = monitor;
  let sumV = 0;
  let lowerPinV = pinErrorV(monitor, 0);
  for (let k = 0; k < pack.groups; k++) {
    const trueV = groupVoltageV(pack, k, currentA);
    sumV += trueV;
    const upperPinV = pinErrorV(monitor, k + 1);
    const blockV = plan.block !== null && k >= plan.block.from && k <= plan.block.to ? monitor.blockErrorV : 0;
    const readV = trueV + upperPinV - lowerPinV + blockV + random.normal(0, cellNoiseV);
    monitor.cellV[k] = Math.max(0, Math.round(readV / cellStepV) * cellStepV);
    lowerPinV = upperPinV;
  }
  // Behind an open switch nothing stands at the terminals until a charger feeds them.
  const terminalV = plan.dischargeSwitch === "open" && currentA <= 0 ? 0 : sumV + currentA * pack.pathOhm;
  monitor.packV = Math.round((terminalV * monitor.packGain + random.normal(0, packNoiseV)) / packStepV) * packStepV;
  const rawA = currentA * monitor.currentGain + monitor.currentOffsetA + random.normal(0, currentNoiseA);
  monitor.currentA = Math.abs(rawA) < currentDeadBandA ? 0 : Math.round(rawA / currentStepA) * currentStepA + 0;
  monitor.soc = Math.min(1, Math.max(0, monitor.soc + (monitor.currentA * seconds) / (3600 * model.ratedCapacityAh)));
}

/** Error of one pin against its tap: the bleed currents through the lead, and the contact if it is open. */
function pinErrorV(monitor: Monitor, tap: number): number {
  const outA = (monitor.bleedA[tap - 1] ?? 0) - (monitor.bleedA[tap] ?? 0);
  return (monitor.tapErrorV[tap] ?? 0) - outA * (monitor.plan.tapOhm[tap] ?? 0);
}

/** A probe as the board reads it: 0.1 K steps, and the rails of a broken sensor. */
export function readProbeC(monitor: Monitor, pack: SimulatedPack, probe: number, stuckC: number): number {
  const { plan, random } = monitor;
  if (plan.probe !== null && plan.probe.index === probe) {
    switch (plan.probe.kind) {
      case "stuck":
        return stuckC;
      case "open":
        return -40;
      case "short":
        return 125;
    }
  }
  const readC = (pack.probeC[probe] ?? 0) + random.normal(0, probeNoiseK);
  return Math.round(Math.min(probeRailC, readC) * 10) / 10;
}
