import { expect, test } from "vitest";
import { packCapacities } from "@/lib/diagnosis/built-beside-found";
import { compareWithBuilt } from "@/lib/diagnosis/compare-with-built";
import type { Measurement } from "@/lib/diagnosis/finding";
import { keptMeasurements } from "@/lib/diagnosis/kept-measurements";

const full: Measurement = {
  name: "capacity-full-discharge",
  group: null,
  value: 24,
  unit: "Ah",
  uncertainty: 0.5,
  method: "charge from full to the first group at its cut-off, that first row included",
  conditions: "mean 110.0 A, cut-off 2.80 V",
};
const rests: Measurement = { ...full, name: "capacity-between-rests", group: 1, conditions: "two rests" };
const cycles: Measurement = { ...full, name: "cycle-count", value: 12, unit: "1", uncertainty: null };

test("what rules of before called a capacity, whatever its load and warmth, is shown and makes no pack aged early", () => {
  const old = keptMeasurements([full, rests, cycles], "2026-11-t");
  expect(packCapacities(old)).toEqual([]);
  expect(old.map(({ name }) => name)).toEqual(["charge-to-cut-off", "capacity-between-rests", "cycle-count"]);
  const built = {
    capacityAh: 40,
    loadTestCurrentA: 100,
    loadTestSagV: 4,
    groupResistanceMilliohm: [],
    matchingSpreadMillivolt: 3,
  };
  const say = (measurements: readonly Measurement[]) =>
    compareWithBuilt(measurements, [], { built, population: null, potted: false }, { cyclesTo80Percent: 1000 }).join(
      " ",
    );
  expect(say([full, cycles])).toContain("it has aged early");
  expect(say(old)).toContain("mean 110.0 A, cut-off 2.80 V; no capacity: the rules of that day did not look at load");
  expect(say(old)).not.toContain("aged early");
});

test("measurements of rules that looked at load and warmth stay as they are", () => {
  for (const version of ["2026-11-u", "2026-11-w", "2027-01-a", null])
    expect(packCapacities(keptMeasurements([full], version))).toEqual([full]);
});
