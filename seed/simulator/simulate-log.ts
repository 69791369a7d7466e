import type { PackModel } from "@/lib/packs/pack-model";
import { advancePack, currentForTerminalVoltageA } from "./advance-pack";
import { breakPack, type FaultPlan } from "./fault-plan";
import { type LooseContact, looseContact } from "./loose-contact";
import { buildMonitor, type Monitor, readPack, readProbeC } from "./monitor";
import { protectPack } from "./protection";
import { rideProfile } from "./ride-profile";
import { type SeededRandom, seededRandom } from "./seeded-random";
import type { SimulatedFault } from "./simulated-fault";
import type { SimulatedLog } from "./simulated-log";
import { buildSimulatedPack, type SimulatedPack } from "./simulated-pack";
import { type UsagePhase, usageScript } from "./usage-script";

export interface SimulationRequest {
  readonly model: PackModel;
  readonly serial: string;
  readonly seed: number;
  readonly fault: SimulatedFault;
  readonly startUnixS: number;
  /** Ambient temperature of the season and place, degC. */
  readonly ambientC: number;
  readonly cycleCount: number;
  /** As measured when the pack was built. */
  readonly builtCapacityAh: number;
  readonly builtGroupResistanceMilliohm: readonly number[];
}

interface Run {
  readonly pack: SimulatedPack;
  readonly monitor: Monitor;
  readonly plan: FaultPlan;
  readonly model: PackModel;
  readonly random: SeededRandom;
  readonly contact: LooseContact | null;
  readonly log: MutableLog;
  timeS: number;
}

type MutableLog = { -readonly [K in keyof SimulatedLog]: Writable<SimulatedLog[K]> };
type Writable<T> = T extends readonly (infer E)[] ? Writable<E>[] : T;

/** Capacity lost and resistance gained by ordinary ageing up to the model's end of cycle life: engineering defaults. */
const fadeAtEndOfLife = 0.2;
const resistanceGainAtEndOfLife = 0.3;
/** Mean time a worn lead or cracked joint keeps its resistance on the road, s: engineering default. */
const leadHoldS = 25;
/** What a group that shorts adds to the heat at the nearest probe, W: engineering default. */
const shortedGroupW = 60;
/** Wait between one group and the next, s. */
const spreadS = 70;

/** Simulates the pack through its usage script and returns what its board logged: the same request, the same log. */
export function simulateLog(request: SimulationRequest): SimulatedLog {
  const { model, fault } = request;
  const random = seededRandom(request.seed);
  const script = usageScript(model, fault, request.ambientC);
  const aged = Math.min(1, request.cycleCount / model.cyclesTo80Percent);
  const pack = buildSimulatedPack(
    model,
    {
      capacityAh: request.builtCapacityAh,
      agedCapacityFactor: 1 - fadeAtEndOfLife * aged,
      groupResistanceMilliohm: request.builtGroupResistanceMilliohm,
      agedResistanceFactor: 1 + resistanceGainAtEndOfLife * aged,
      startSoc: script.startSoc,
      ambientC: script.ambientC,
    },
    random,
  );
  const plan = breakPack(pack, model, fault, random);
  const run: Run = {
    pack,
    monitor: buildMonitor(pack, plan, script.startSoc, random),
    plan,
    model,
    random,
    contact: plan.loose === null ? null : looseContact(plan.loose, random),
    log: emptyLog(request, pack.groups),
    timeS: 0,
  };
  if (plan.joint !== null) {
    pack.jointOhm[plan.joint.group] = plan.joint.lowOhm;
  }
  script.phases.forEach((phase, i) => {
    runPhase(run, phase, i / script.phases.length, i === script.phases.length - 1);
  });
  for (let i = 0; i < plan.clockResets; i++) {
    run.log.clockResetRows.push(random.integer(1, run.log.timeS.length - 1));
  }
  run.log.clockResetRows.sort((a, b) => a - b);
  return run.log;
}

function runPhase(run: Run, phase: UsagePhase, share: number, last: boolean): void {
  const { pack, monitor, model, plan } = run;
  if (plan.block !== null) {
    monitor.blockErrorV = share >= plan.block.afterShare ? plan.block.errorV : 0;
  }
  // The vehicle is locked after the last ride: the board is told to switch off.
  monitor.lockedOff = plan.dischargeSwitch === "stuck" && last;
  const seconds = phase.kind === "charge" ? phase.maxSeconds : phase.seconds;
  const demandA = phase.kind === "ride" ? rideProfile(model, seconds, run.random) : null;
  let tapering = 0;
  for (let at = 0; at < seconds; at += phase.everyS) {
    const currentA = flowingCurrentA(run, phase, demandA?.[at] ?? 0, last);
    shortNext(run, last, at, seconds);
    shake(run, phase);
    advancePack(pack, currentA - plan.quiescentA, monitor.bleedA, phase.everyS);
    run.timeS += phase.everyS;
    record(run, currentA, phase.everyS);
    if (phase.kind === "ride" && lowestSoc(pack) < phase.stopAtSoc) {
      return;
    }
    if (phase.kind === "charge") {
      tapering = currentA < 0.04 * model.ratedCapacityAh && phase.rateC > 0.05 ? tapering + 1 : 0;
      if (tapering >= 3 || monitor.soc > phase.stopAtSoc) {
        monitor.soc = tapering >= 3 && monitor.chargeOn ? 1 : monitor.soc;
        return;
      }
    }
  }
}

/** What really flows, given what is asked for, what the board allows and what its switches do. */
function flowingCurrentA(run: Run, phase: UsagePhase, askedA: number, last: boolean): number {
  const { pack, monitor, model, plan } = run;
  if (phase.kind === "rest") {
    return plan.dischargeSwitch === "stuck" && last ? -plan.stuckLoadA : 0;
  }
  if (phase.kind === "charge") {
    const constantVoltageA = currentForTerminalVoltageA(pack, model.groups * model.cellMaxV - 0.03 + phase.excessV);
    return monitor.chargeOn ? Math.max(0, Math.min(phase.rateC * model.ratedCapacityAh, constantVoltageA)) : 0;
  }
  const interrupted = plan.path !== null && run.random.chance(plan.path.dropoutShare);
  const off = interrupted || !monitor.dischargeOn || plan.dischargeSwitch === "open";
  const refused = askedA > 0 ? !monitor.chargeOn || monitor.soc > 0.9 : off;
  return refused ? 0 : askedA;
}

/** Vibration moves loose contacts, cracked joints and worn leads. */
function shake(run: Run, phase: UsagePhase): void {
  const { pack, plan, random } = run;
  const riding = phase.kind === "ride";
  if (run.contact !== null && plan.loose !== null) {
    run.contact.shake(phase.everyS, riding);
    run.monitor.tapErrorV[plan.loose.tap] = run.contact.errorV();
  }
  const moves = riding && random.chance(phase.everyS / leadHoldS);
  if (plan.joint !== null && moves) {
    pack.jointOhm[plan.joint.group] = random.between(plan.joint.lowOhm, plan.joint.highOhm);
  }
  if (plan.path !== null && moves) {
    pack.pathOhm = random.between(plan.path.lowOhm, plan.path.highOhm);
  }
}

function shortNext(run: Run, last: boolean, at: number, seconds: number): void {
  const { pack, plan } = run;
  if (!last || plan.shorting.length === 0) {
    return;
  }
  const startS = 0.3 * seconds;
  plan.shorting.forEach((k, i) => {
    if (at >= startS + i * spreadS && (pack.shortedForS[k] ?? 0) < 0) {
      pack.shortedForS[k] = 0;
      const nearest = Math.min(2, Math.floor((3 * k) / pack.groups));
      pack.probeExtraW[nearest] = (pack.probeExtraW[nearest] ?? 0) + shortedGroupW;
    }
  });
}

function record(run: Run, currentA: number, seconds: number): void {
  const { pack, monitor, model, plan, log } = run;
  if (plan.joint !== null) {
    const probe = Math.min(2, Math.floor((3 * plan.joint.group) / pack.groups));
    pack.probeExtraW[probe] = currentA * currentA * (pack.jointOhm[plan.joint.group] ?? 0);
  }
  readPack(monitor, pack, model, currentA, seconds);
  const temperaturesC = log.probeC.map((column, p) => {
    const readC = readProbeC(monitor, pack, p, column[0] ?? Math.round(pack.ambientC * 10) / 10);
    column.push(readC);
    return readC;
  });
  protectPack(monitor, model, temperaturesC, currentA);
  log.timeS.push(run.timeS);
  log.packV.push(monitor.packV);
  log.currentA.push(monitor.currentA);
  log.cellV.forEach((column, k) => {
    column.push(monitor.cellV[k] ?? 0);
  });
  log.stageC.push(Math.round(pack.stageC * 10) / 10);
  log.socPercent.push(Math.round(monitor.soc * 1000) / 10);
  log.chargeSwitch.push(monitor.chargeOn ? 1 : 0);
  log.dischargeSwitch.push(monitor.dischargeOn ? 1 : 0);
  log.balancingMask.push(monitor.balancing.reduce((mask, on, k) => mask + (on ? 2 ** k : 0), 0));
  log.protectionFlags.push(monitor.flags);
}

function lowestSoc(pack: SimulatedPack): number {
  return pack.soc.reduce((lowest, soc) => Math.min(lowest, soc), Number.POSITIVE_INFINITY);
}

function emptyLog(request: SimulationRequest, groups: number): MutableLog {
  return {
    serial: request.serial,
    startUnixS: request.startUnixS,
    timeS: [],
    packV: [],
    currentA: [],
    cellV: Array.from({ length: groups }, () => []),
    probeC: [[], [], []],
    stageC: [],
    socPercent: [],
    cycleCount: request.cycleCount,
    chargeSwitch: [],
    dischargeSwitch: [],
    balancingMask: [],
    protectionFlags: [],
    clockResetRows: [],
  };
}
