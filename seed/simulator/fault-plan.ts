import type { PackModel } from "@/lib/packs/pack-model";
import type { SeededRandom } from "./seeded-random";
import type { Severity, SimulatedFault } from "./simulated-fault";
import type { SimulatedPack } from "./simulated-pack";

/** What a fault does while the log runs, beyond what it has already done to the parts of the pack. */
export interface FaultPlan {
  /** Resistance of the sense leads, ohm, tap 0 (negative end) to tap N. */
  readonly tapOhm: Float64Array;
  readonly loose: LooseTap | null;
  readonly joint: { readonly group: number; readonly lowOhm: number; readonly highOhm: number } | null;
  readonly path: { readonly lowOhm: number; readonly highOhm: number; readonly dropoutShare: number } | null;
  readonly probe: { readonly index: number; readonly kind: "stuck" | "open" | "short" } | null;
  /** A monitor chip that reads a block of groups wrong from a part of the log on. */
  readonly block: {
    readonly from: number;
    readonly to: number;
    readonly errorV: number;
    readonly afterShare: number;
  } | null;
  /** "stuck": current flows although the switch is commanded off. "open": none flows although it is commanded on. */
  readonly dischargeSwitch: "sound" | "stuck" | "open";
  readonly stuckLoadA: number;
  readonly balancerWorks: boolean;
  /** What the electronics draw from the whole stack while parked, A. */
  readonly quiescentA: number;
  /** Groups that short one after the other in the last rest. */
  readonly shorting: readonly number[];
  readonly clockResets: number;
  readonly protectsCharging: boolean;
}

export interface LooseTap {
  /** 0 is the negative end; N the positive end. */
  readonly tap: number;
  readonly amplitudeV: number;
  /** Share of the riding time in which the contact is open. */
  readonly openShare: number;
}

const bySeverity = (severity: Severity, slight: number, clear: number, severe: number): number =>
  severity === "slight" ? slight : severity === "clear" ? clear : severe;

/** Healthy sense lead with its contact, ohm: engineering default. */
const healthyTapOhm = 0.04;

/**
 * Breaks the pack: changes its parts (capacity, resistance, charge, leak) and says what goes on happening in the log.
 * All sizes are engineering defaults chosen so that "clear" is what a bench would call without doubt.
 */
export function breakPack(
  pack: SimulatedPack,
  model: PackModel,
  fault: SimulatedFault,
  random: SeededRandom,
): FaultPlan {
  const { severity } = fault;
  const indexes = fault.groups.map((group) => group - 1).filter((k) => k >= 0 && k < pack.groups);
  const first = indexes[0] ?? 0;
  const tapOhm = new Float64Array(pack.groups + 1).fill(healthyTapOhm);
  const sound: FaultPlan = {
    tapOhm,
    loose: null,
    joint: null,
    path: null,
    probe: null,
    block: null,
    dischargeSwitch: "sound",
    stuckLoadA: 0,
    balancerWorks: true,
    quiescentA: 0.002,
    shorting: [],
    clockResets: 0,
    protectsCharging: true,
  };
  const groupOhm = (model.groupResistanceMilliohm ?? 1) / 1000;

  switch (fault.fault) {
    case "weak-cell":
      for (const k of indexes) {
        scale(pack.capacityAh, k, bySeverity(severity, 0.88, 0.78, 0.6));
        scale(pack.ohmicOhm, k, 1.06);
        // Level with the others at the last full charge, like every group.
        pack.soc[k] = 1 - (1 - (pack.soc[k] ?? 0)) / bySeverity(severity, 0.88, 0.78, 0.6);
      }
      return sound;
    case "high-resistance-cell":
      for (const k of indexes) {
        const factor = bySeverity(severity, 1.25, 1.55, 2.2);
        scale(pack.ohmicOhm, k, factor);
        scale(pack.fastOhm, k, factor);
      }
      return sound;
    case "high-resistance-joint": {
      const highOhm = groupOhm * bySeverity(severity, 0.5, 1.1, 2.6);
      return { ...sound, joint: { group: first, lowOhm: 0.2 * highOhm, highOhm } };
    }
    case "self-discharge":
      for (const k of indexes) {
        // Share of the capacity lost a day.
        pack.leakA[k] = (model.ratedCapacityAh * bySeverity(severity, 0.006, 0.011, 0.028)) / 24;
        pack.soc[k] = (pack.soc[k] ?? 0) - bySeverity(severity, 0.01, 0.02, 0.06);
      }
      return { ...sound, balancerWorks: false };
    case "sense-wire":
      return breakTap(sound, fault, pack.groups, random);
    case "measurement-fault":
      return {
        ...sound,
        block: {
          from: first,
          to: indexes.at(-1) ?? first,
          errorV: bySeverity(severity, -0.03, -0.07, -0.16),
          afterShare: 0.3,
        },
      };
    case "power-stage-fault":
      return {
        ...sound,
        dischargeSwitch: severity === "slight" ? "open" : "stuck",
        stuckLoadA: bySeverity(severity, 0, 1.6, 4.5),
      };
    case "imbalance":
      for (const k of indexes) {
        pack.soc[k] = (pack.soc[k] ?? 0) - bySeverity(severity, 0.05, 0.09, 0.16);
      }
      return { ...sound, balancerWorks: false };
    case "over-discharge":
      for (let k = 0; k < pack.groups; k++) {
        pack.soc[k] = (pack.soc[k] ?? 0) - (indexes.includes(k) ? bySeverity(severity, 0.006, 0.014, 0.022) : 0);
      }
      return { ...sound, quiescentA: (model.ratedCapacityAh * 0.045) / 40, balancerWorks: false };
    case "temperature-sensor":
      return { ...sound, probe: { index: random.integer(0, 2), kind: random.pick(["stuck", "open", "short"]) } };
    case "water-ingress":
      for (const k of indexes) {
        pack.leakA[k] = (model.ratedCapacityAh * random.between(0.01, 0.04)) / 24;
        tapOhm[k] = random.between(0.4, 1.5);
      }
      return {
        ...sound,
        balancerWorks: false,
        clockResets: bySeverity(severity, 1, 2, 4),
        loose: { tap: first + 1, amplitudeV: 0.12, openShare: 0.05 },
      };
    case "main-lead": {
      const highOhm = bySeverity(severity, 0.008, 0.02, 0.05);
      return {
        ...sound,
        path: { lowOhm: 0.25 * highOhm, highOhm, dropoutShare: bySeverity(severity, 0, 0.003, 0.012) },
      };
    }
    case "outside-cause":
      return { ...sound, protectsCharging: false };
    case "acute-event":
      return { ...sound, shorting: indexes };
    case "no-fault-found":
    case "mechanical-damage":
      return sound;
  }
}

/** Two neighbouring groups name the tap between them; a single group, 1 or N, names the end tap on its outer side. */
function breakTap(sound: FaultPlan, fault: SimulatedFault, groups: number, random: SeededRandom): FaultPlan {
  const group = fault.groups[0] ?? 1;
  const tap = fault.groups.length > 1 || group !== 1 ? Math.min(group, groups) : 0;
  sound.tapOhm[tap] = random.between(1.5, 4);
  return {
    ...sound,
    loose: {
      tap,
      amplitudeV: bySeverity(fault.severity, 0.13, 0.35, 0.7),
      openShare: bySeverity(fault.severity, 0.04, 0.1, 0.22),
    },
  };
}

function scale(list: Float64Array, k: number, factor: number): void {
  list[k] = (list[k] ?? 0) * factor;
}
