import fc from "fast-check";
import { expect, test } from "vitest";
import { faults } from "@/lib/diagnosis/finding";
import { buildModels } from "@/seed/scenario/models";
import { simulateLog } from "@/seed/simulator/simulate-log";
import type { SimulatedFault } from "@/seed/simulator/simulated-fault";
import type { SimulatedLog } from "@/seed/simulator/simulated-log";

const gorrow = buildModels().find(({ code }) => code === "GW");
if (gorrow === undefined) {
  throw new RangeError("the scenario has no model GW");
}
const { model } = gorrow;
const builtCapacityAh = 44.7;
const pathOhm = 0.0015;

function logOf(fault: SimulatedFault, seed = 7): SimulatedLog {
  return simulateLog({
    model,
    serial: "GW260300012",
    seed,
    fault,
    startUnixS: 1_780_000_000,
    ambientC: 20,
    cycleCount: 50,
    builtCapacityAh,
    builtGroupResistanceMilliohm: Array.from({ length: model.groups }, () => 0.9),
  });
}

const healthy = logOf({ fault: "no-fault-found", groups: [], severity: "clear" });

const at = (list: readonly number[] | undefined, row: number): number => list?.[row] ?? Number.NaN;
const sumV = (log: SimulatedLog, row: number): number => log.cellV.reduce((sum, column) => sum + at(column, row), 0);
const rowsOf = (log: SimulatedLog): number[] => log.timeS.map((_, row) => row);
const lowest = (list: readonly number[]): number => list.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
const highest = (list: readonly number[]): number => list.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);

function medianOf(list: readonly number[]): number {
  const sorted = [...list].sort((a, b) => a - b);
  return (at(sorted, Math.floor((sorted.length - 1) / 2)) + at(sorted, Math.floor(sorted.length / 2))) / 2;
}

/** Reading of the group minus the median of all groups, V. */
function deviationV(log: SimulatedLog, group: number, row: number): number {
  return at(log.cellV[group - 1], row) - medianOf(log.cellV.map((column) => at(column, row)));
}

/** Charge counted between two rows, Ah, each row's current holding for the time since the row before. */
function countedAh(log: SimulatedLog, from: number, until: number): number {
  let ampereSeconds = 0;
  for (let row = from + 1; row <= until; row++) {
    ampereSeconds += at(log.currentA, row) * (at(log.timeS, row) - at(log.timeS, row - 1));
  }
  return ampereSeconds / 3600;
}

/** Least-squares slope of the group's voltage changes on the current changes between rows 1 s apart, ohm. */
function stepOhm(log: SimulatedLog, group: number): number {
  let products = 0;
  let squares = 0;
  for (const row of rowsOf(log).slice(1)) {
    const dA = at(log.currentA, row) - at(log.currentA, row - 1);
    if (at(log.timeS, row) - at(log.timeS, row - 1) === 1 && Math.abs(dA) > 20) {
      products += dA * (at(log.cellV[group - 1], row) - at(log.cellV[group - 1], row - 1));
      squares += dA * dA;
    }
  }
  return products / squares;
}

const lastOf = (log: SimulatedLog): number => log.timeS.length - 1;

test("the same seed gives the same log and another seed another one", () => {
  expect(logOf({ fault: "no-fault-found", groups: [], severity: "clear" })).toEqual(healthy);
  expect(logOf({ fault: "no-fault-found", groups: [], severity: "clear" }, 8).packV).not.toEqual(healthy.packV);
});

test("the groups add up to the pack voltage, less what the path to the terminals takes (Kirchhoff's voltage law)", () => {
  // 0.1 % gain error of the pack reading, 18 groups with 0.6 mV each, 6 mV noise and 10 mV steps: below 0.12 V.
  for (const row of rowsOf(healthy)) {
    const gap = at(healthy.packV, row) - sumV(healthy, row) - at(healthy.currentA, row) * pathOhm;
    expect(Math.abs(gap)).toBeLessThan(0.12);
  }
});

test("charge is conserved: what the counter lost and gained is the current integrated, and both rests agree with it", () => {
  const emptiest = healthy.socPercent.indexOf(lowest(healthy.socPercent));
  const takenAh = -countedAh(healthy, 0, emptiest);
  const counterAh = ((at(healthy.socPercent, 0) - at(healthy.socPercent, emptiest)) / 100) * model.ratedCapacityAh;
  expect(takenAh).toBeGreaterThan(0.5 * model.ratedCapacityAh);
  expect(Math.abs(takenAh - counterAh)).toBeLessThan(0.01 * model.ratedCapacityAh);
  // From the same starting level to full again: the charge put back is the charge taken out and the first gap to full.
  const putBackAh = countedAh(healthy, emptiest, lastOf(healthy));
  expect(putBackAh - takenAh).toBeGreaterThan(0);
  expect(putBackAh - takenAh).toBeLessThan(0.08 * model.ratedCapacityAh);
});

test("energy is lost on the way: less comes out per ampere-hour than goes in, by a few percent", () => {
  const perAh = (sign: 1 | -1): number => {
    let energy = 0;
    let charge = 0;
    for (const row of rowsOf(healthy).slice(1)) {
      const currentA = at(healthy.currentA, row);
      if (sign * currentA > 1) {
        const seconds = at(healthy.timeS, row) - at(healthy.timeS, row - 1);
        energy += at(healthy.packV, row) * currentA * seconds;
        charge += currentA * seconds;
      }
    }
    return energy / charge;
  };
  const efficiency = perAh(-1) / perAh(1);
  expect(efficiency).toBeGreaterThan(0.85);
  expect(efficiency).toBeLessThan(0.99);
});

test("limits are kept by a healthy pack: no protection, no cell past its limits, no more than the peak current", () => {
  expect(highest(healthy.protectionFlags)).toBe(0);
  for (const column of healthy.cellV) {
    expect(highest(column)).toBeLessThan(model.cellMaxV + 0.02);
    expect(lowest(column)).toBeGreaterThan(model.cellMinV);
  }
  expect(-lowest(healthy.currentA)).toBeLessThan(1.05 * model.peakDischargeA);
  expect(highest(healthy.currentA)).toBeLessThanOrEqual(1.01 * model.chargeMaxA);
});

test("logs have one to four thousand rows or a little over, but for the short last one of an acute event", () => {
  for (const fault of faults) {
    const rows = logOf({ fault, groups: [5], severity: "clear" }).timeS.length;
    expect(rows, fault).toBeGreaterThan(fault === "acute-event" ? 500 : 1200);
    expect(rows, fault).toBeLessThan(4500);
  }
});

test("time never goes back, levels are between 0 and 100 and every reading is finite, whatever is broken", () => {
  fc.assert(
    fc.property(
      fc.constantFrom(...faults),
      fc.constantFrom("slight" as const, "clear" as const, "severe" as const),
      fc.integer({ min: 2, max: 16 }),
      fc.integer(),
      (fault, severity, group, seed) => {
        const log = logOf({ fault, groups: [group, group + 1], severity }, seed);
        const columns = [log.packV, log.currentA, log.stageC, ...log.cellV, ...log.probeC];
        return (
          rowsOf(log)
            .slice(1)
            .every((row) => at(log.timeS, row) > at(log.timeS, row - 1)) &&
          log.socPercent.every((percent) => percent >= 0 && percent <= 100) &&
          columns.every((column) => column.length === log.timeS.length && column.every(Number.isFinite))
        );
      },
    ),
    { numRuns: 25, seed: 1 },
  );
});

test("a weak cell is level when full and lowest when the ride ends", () => {
  const log = logOf({ fault: "weak-cell", groups: [6], severity: "clear" });
  const emptiest = log.socPercent.indexOf(lowest(log.socPercent));
  expect(Math.abs(deviationV(log, 6, 100))).toBeLessThan(0.02);
  expect(deviationV(log, 6, emptiest)).toBeLessThan(-0.08);
});

test("a high-resistance cell drops in step with the current and is level at rest", () => {
  const log = logOf({ fault: "high-resistance-cell", groups: [9], severity: "clear" });
  // 1.55 times the ohmic part: the first second's slope shows it whole.
  expect(stepOhm(log, 9) / stepOhm(log, 3)).toBeGreaterThan(1.4);
  expect(stepOhm(log, 9) / stepOhm(log, 3)).toBeLessThan(1.7);
  expect(Math.abs(deviationV(log, 9, 100))).toBeLessThan(0.005);
});

test("a leaking group falls behind the others while the pack is parked, by what the leak takes out", () => {
  const log = logOf({ fault: "self-discharge", groups: [4], severity: "clear" });
  const last = lastOf(log);
  const days = (at(log.timeS, last) - at(log.timeS, last - 2880)) / 86400;
  const millivoltPerDay = (1000 * (deviationV(log, 4, last) - deviationV(log, 4, last - 2880))) / days;
  // 1.1 % of the capacity a day on a slope of 6 to 8 mV a percent at half charge.
  expect(millivoltPerDay).toBeLessThan(-5);
  expect(millivoltPerDay).toBeGreaterThan(-11);
});

test("a loose sense lead moves two neighbours against each other and leaves their sum and the pack alone", () => {
  const log = logOf({ fault: "sense-wire", groups: [7, 8], severity: "clear" });
  const jumps = rowsOf(log).filter((row) => Math.abs(deviationV(log, 7, row)) > 0.15);
  expect(jumps.length).toBeGreaterThan(30);
  for (const row of jumps) {
    expect(Math.abs(deviationV(log, 7, row) + deviationV(log, 8, row))).toBeLessThan(0.03);
    expect(Math.abs(at(log.packV, row) - sumV(log, row) - at(log.currentA, row) * pathOhm)).toBeLessThan(0.12);
  }
});

test("a loose end tap moves one group, and the sum of the groups with it", () => {
  const log = logOf({ fault: "sense-wire", groups: [model.groups], severity: "clear" });
  const jumps = rowsOf(log).filter((row) => Math.abs(deviationV(log, model.groups, row)) > 0.15);
  expect(jumps.length).toBeGreaterThan(30);
  for (const row of jumps) {
    const gap = at(log.packV, row) - sumV(log, row) - at(log.currentA, row) * pathOhm;
    expect(Math.abs(gap + deviationV(log, model.groups, row))).toBeLessThan(0.15);
  }
});

test("an acute event takes the pack voltage with it, at no current, and heats the probes", () => {
  const log = logOf({ fault: "acute-event", groups: [5, 6, 4], severity: "severe" });
  const last = lastOf(log);
  const before = last - 80;
  expect(at(log.packV, before) - at(log.packV, last)).toBeGreaterThan(3 * 3.5);
  expect(highest(log.currentA.slice(before).map(Math.abs))).toBe(0);
  expect(highest(log.probeC.map((column) => at(column, last)))).toBeGreaterThan(60);
});

test("a stuck switch lets current flow although it is commanded off, and a flag says so", () => {
  const log = logOf({ fault: "power-stage-fault", groups: [], severity: "clear" });
  const last = lastOf(log);
  expect(at(log.dischargeSwitch, last)).toBe(0);
  expect(at(log.currentA, last)).toBeLessThan(-1);
  // CONTACTOR_ERROR is bit 20 of Evt1 in SunSpec model 802.
  expect(at(log.protectionFlags, last) & (1 << 20)).not.toBe(0);
});

test("a long-stored pack ends with groups below 2 V and its under-voltage flag set", () => {
  const log = logOf({ fault: "over-discharge", groups: [3, 4], severity: "severe" });
  expect(lowest(log.cellV[2] ?? [])).toBeLessThan(2);
  // UNDER_VOLT_ALARM is bit 11 of Evt1 in SunSpec model 802.
  expect(at(log.protectionFlags, lastOf(log)) & (1 << 11)).not.toBe(0);
});

test("an imbalanced group is off by the same charge when full and when low, with normal resistance", () => {
  const log = logOf({ fault: "imbalance", groups: [10], severity: "clear" });
  expect(deviationV(log, 10, 100)).toBeLessThan(-0.03);
  expect(stepOhm(log, 10) / stepOhm(log, 3)).toBeGreaterThan(0.93);
  expect(stepOhm(log, 10) / stepOhm(log, 3)).toBeLessThan(1.07);
  expect(highest(log.balancingMask)).toBe(0);
});

test("a leak shows on the flat curve of iron phosphate too, because such a pack is parked low", () => {
  const flat = buildModels().find(({ code }) => code === "TF")?.model ?? model;
  const fault = { fault: "self-discharge", groups: [4], severity: "clear" } as const;
  const request = { serial: "TF260300010", seed: 5, fault, startUnixS: 1_780_000_000, ambientC: 20, cycleCount: 30 };
  const log = simulateLog({ ...request, model: flat, builtCapacityAh: 51, builtGroupResistanceMilliohm: [] });
  const last = lastOf(log);
  expect(deviationV(log, 4, last) - deviationV(log, 4, last - 2880)).toBeLessThan(-0.008);
});
