import type { BenchModel } from "./bench-models";
import type { Chance } from "./chance";
import { type Monitor, someMonitor } from "./monitor";
import { charge, minutesFor, ordinaryUse, parkedUse, rest, ride, type UseScript } from "./use-script";

/** Awkward but healthy: what a returned pack without a fault has been through. */
export const healthyUses = [
  "ordinary",
  "cold ride",
  "very short log",
  "long storage",
  "high power",
  "balancing at work",
  "hot day",
  "unequal probes",
  "noisy sensors",
  "old pack",
  "ridden to empty",
  "many short rides",
  "days and nights",
  "current sensor off",
  "balancing at rest",
  "alarm from outside",
] as const;
export type HealthyUse = (typeof healthyUses)[number];

/** Event bits of the open SunSpec battery models: COMMUNICATION_ERROR 0, FAN_ERROR 21, OPEN_DOOR_ERROR 23, OTHER_ALARM 25. */
const outsideAlarms = [1 << 0, 1 << 21, 1 << 23, 1 << 25] as const;

export function healthyScript(
  use: HealthyUse,
  bench: BenchModel,
  chance: Chance,
): { script: UseScript; monitor: Monitor; grown: number } {
  const { model } = bench;
  const intervalS = chance.pick([1, 1, 2, 5, 10, 30, 60]);
  const monitor = someMonitor(model, chance, intervalS);
  const ordinary = ordinaryUse(model, chance);
  const sound = { script: ordinary, monitor, grown: 1 };
  switch (use) {
    case "ordinary":
      return sound;
    case "cold ride": {
      const acts = [rest(0.5), ride(chance, minutesFor(model, 45), 15), rest(chance.between(0.3, 4))];
      return { ...sound, script: { startPercent: chance.between(80, 98), ambientC: chance.between(-12, 1), acts } };
    }
    case "very short log": {
      const acts = [rest(chance.between(0, 0.1)), ride(chance, chance.between(0.5, 8), 15)];
      return { ...sound, script: { ...ordinary, acts } };
    }
    case "long storage":
      return { ...sound, script: parkedUse(model, chance, chance.between(2.5, 14)) };
    case "high power": {
      const style = { usual: 0.95, most: 2, holdS: [5, 25], recovers: true } as const;
      const acts = [rest(0.2), { act: "ride", minutes: 25, style, stopPercent: 15 } as const, rest(1.2)];
      return { ...sound, script: { ...ordinary, acts: [...acts, charge(model, chance), rest(0.5)] } };
    }
    case "balancing at work": {
      const acts = [rest(0.2), ride(chance, minutesFor(model, 30), 20), charge(model, chance, { hours: 14 }), rest(6)];
      const leadOhm = monitor.leadOhm.map((ohm) => ohm * 2);
      return { ...sound, script: { ...ordinary, acts }, monitor: { ...monitor, leadOhm, bleedA: 0.15 } };
    }
    case "hot day":
      return { ...sound, script: { ...ordinary, ambientC: chance.between(32, 38) } };
    case "unequal probes": {
      const probes = monitor.probes.map((probe) => ({
        ...probe,
        offsetK: chance.normal(1.5),
        followsS: chance.between(5, 300),
      }));
      return { ...sound, monitor: { ...monitor, probes } };
    }
    case "noisy sensors":
      return {
        ...sound,
        monitor: {
          ...monitor,
          noiseV: chance.between(0.003, 0.006),
          packNoiseV: chance.between(0.03, 0.15),
          probeNoiseK: chance.between(0.2, 0.6),
          currentNoiseA: 0.004 * model.continuousDischargeA,
        },
      };
    case "old pack":
      return { ...sound, grown: chance.between(1.3, 1.9) };
    case "ridden to empty": {
      const acts = [
        rest(0.4),
        ride(chance, minutesFor(model, 110), 1.5),
        rest(chance.between(0.5, 8)),
        charge(model, chance),
        rest(1),
      ];
      return { ...sound, script: { ...ordinary, acts } };
    }
    case "days and nights": {
      const parked = parkedUse(model, chance, chance.between(2.5, 9));
      return { ...sound, script: { ...parked, swingK: chance.between(3, 9) } };
    }
    case "current sensor off": {
      const currentOffsetA = chance.pick([-1, 1]) * chance.between(0.004, 0.015) * model.ratedCapacityAh;
      const currentGain = 1 + chance.pick([-1, 1]) * chance.between(0.015, 0.04);
      return { ...sound, monitor: { ...monitor, currentOffsetA, currentGain } };
    }
    case "balancing at rest": {
      const acts = [rest(0.2), ride(chance, minutesFor(model, 45), 20), charge(model, chance), rest(50)];
      return { ...sound, script: { ...ordinary, acts, balancesAtRest: true } };
    }
    case "alarm from outside":
      return { ...sound, script: { ...ordinary, alarms: chance.pick(outsideAlarms) } };
    case "many short rides": {
      const acts = Array.from({ length: chance.integer(3, 7) }, () => [
        ride(chance, chance.between(3, 9), 12),
        rest(chance.between(0.05, 0.8)),
      ]).flat();
      return { ...sound, script: { ...ordinary, acts } };
    }
  }
}
