import { expect, test } from "vitest";
import { compareWithBuilt } from "@/lib/diagnosis/compare-with-built";
import type { Finding, Measurement } from "@/lib/diagnosis/finding";
import { healthyPopulation, LEAST_SOUND_PACKS, type SoundPack } from "@/lib/diagnosis/healthy-population";
import { stateOfHealth } from "@/lib/diagnosis/state-of-health";
import { weighAgainstBuilt } from "@/lib/diagnosis/weigh-against-built";

const built = [1, 1.1, 0.9, 1.15, 1];
const baseline = { built: { groupResistanceMilliohm: built, capacityAh: 40 }, population: null, potted: null };

function resistance(group: number, value: number): Measurement {
  return { name: "resistance-10s", group, value, unit: "mOhm", uncertainty: 0.01, method: "steps", conditions: "10 s" };
}

function highResistance(group: number): Finding {
  return {
    fault: "high-resistance-cell",
    groups: [group],
    confidence: 0.7,
    safetyClass: "C",
    evidenceFor: ["It stands out."],
    evidenceAgainst: [],
    nextTest: "Measure it.",
  };
}

const wire: Finding = { ...highResistance(2), fault: "sense-wire", groups: [2, 3], safetyClass: "B" };

/** All groups at 1.2 times the built value, but the named one at a factor of its own. */
function aged(group: number, factor: number): Measurement[] {
  return built.map((value, index) => resistance(index + 1, value * (index + 1 === group ? factor : 1.2)));
}

test("a group that rose against its own built value makes the finding more likely and says by how much", () => {
  const [weighed] = weighAgainstBuilt([highResistance(3)], aged(3, 1.8), baseline);
  expect(weighed?.confidence).toBeGreaterThan(0.7);
  // 1.8 / 1.2 = 1.5 times the rise of the middle group.
  expect(weighed?.evidenceFor.at(-1)).toContain("risen 50 % more than the middle group");
  expect(weighed?.evidenceFor.at(-1)).toContain("built 0.900 mOhm");
});

test("a group that was built high and rose like the others speaks against a fault", () => {
  const [weighed] = weighAgainstBuilt([highResistance(4)], aged(4, 1.2), baseline);
  expect(weighed?.confidence).toBeLessThan(0.7);
  expect(weighed?.evidenceAgainst.at(-1)).toContain("15 % above the middle group when it was built");
});

test("without a build record nothing changes", () => {
  const findings = [highResistance(3), wire];
  expect(weighAgainstBuilt(findings, aged(3, 1.8), null)).toEqual(findings);
  expect(weighAgainstBuilt(findings, aged(3, 1.8), { built: null, population: null, potted: null })).toEqual(findings);
});

// Common practice, no source: an early unpotted revision loses sense wires under vibration, later potted ones do not.
test("a loose sense wire is likelier in an unpotted revision than in a potted one", () => {
  const of = (potted: boolean) => weighAgainstBuilt([wire], [], { ...baseline, potted })[0];
  expect(of(false)?.confidence).toBeGreaterThan(of(true)?.confidence ?? 1);
  expect(of(false)?.evidenceFor.at(-1)).toContain("not potted");
  expect(of(true)?.evidenceAgainst.at(-1)).toContain("potted");
});

test("the state of health is found over built, and early only beyond uncertainty and margin", () => {
  // Common practice, no source: about 80 % are left after 1,000 cycles.
  expect(
    stateOfHealth({ foundAh: 32, foundErrorAh: 0.4, builtAh: 40, cycles: 1000, cyclesTo80Percent: 1000 }),
  ).toMatchObject({
    share: 0.8,
    expected: [expect.closeTo(0.667, 3), expect.closeTo(0.909, 3)],
    early: false,
  });
  const young = { foundErrorAh: 0.4, builtAh: 40, cycles: 100, cyclesTo80Percent: 1000 };
  expect(stateOfHealth({ ...young, foundAh: 34 })).toMatchObject({ share: 0.85, early: true });
  // 2.83 points of wear at most and 5 points of a new pack's spread: 36.87 Ah; twice the uncertainty (0.8 Ah) below is the edge.
  expect(stateOfHealth({ ...young, foundAh: 36.1 }).early).toBe(false);
  expect(stateOfHealth({ ...young, foundAh: 36.0 }).early).toBe(true);
});

test("a pack inside what is expected of its cycles has not aged early, one far below it has", () => {
  const of = (percent: number, cycles: number) =>
    stateOfHealth({ foundAh: percent, foundErrorAh: 0, builtAh: 100, cycles, cyclesTo80Percent: 1000 });
  for (const [percent, cycles] of [
    [73, 1000],
    [93, 100],
    [97, 20],
    [50, 2000],
  ] as const) {
    const { expected, early } = of(percent, cycles);
    expect(percent / 100 < (expected?.[0] ?? 1), `${percent} % after ${cycles}`).toBe(early);
    expect(early).toBe(false);
  }
  expect(of(60, 1000).early).toBe(true);
});

test("unknown cycles give a share without an expectation", () => {
  expect(
    stateOfHealth({ foundAh: 30, foundErrorAh: null, builtAh: 40, cycles: null, cyclesTo80Percent: 1000 }),
  ).toEqual({ share: 0.75, expected: null, early: false });
});

test("capacity, sag and a group that rose unseen are told in sentences", () => {
  const measurements = [
    ...aged(3, 1.8),
    { ...resistance(1, 30), name: "capacity-full-discharge", group: null, unit: "Ah", conditions: "mean 20 A" },
    { ...resistance(1, 100), name: "cycle-count", group: null, unit: "1" },
  ];
  const rates = { cyclesTo80Percent: 1000 };
  const withLoad = { ...baseline, built: { ...baseline.built, loadTestCurrentA: 100, loadTestSagV: 0.6 } };
  const told = compareWithBuilt(measurements, [], withLoad, rates).join(" ");
  expect(told).toContain("30.0 Ah of the 40.0 Ah it was built with (75 %; mean 20 A)");
  expect(told).toContain("92 to 104 % would be expected after 100 cycles");
  expect(told).toContain("aged early");
  // Sum of the found groups: 1.2 · (1 + 1.1 + 1.15 + 1) + 1.62 = 6.72 mOhm, at 100 A 0.67 V.
  expect(told).toContain("sag 0.67 V");
  expect(told).toContain("Watch group 3");
  expect(compareWithBuilt(measurements, [highResistance(3)], withLoad, rates).join(" ")).not.toContain("Watch");
});

test("where nothing can be compared one sentence says why", () => {
  const none = { built: null, population: null, potted: null };
  expect(compareWithBuilt([], [], none, { cyclesTo80Percent: 1000 })).toEqual([
    "No build record of this pack was at hand, so nothing could be compared with how it was built.",
  ]);
});

function soundPack(capacityAh: number, foundMilliohm: number | null): SoundPack {
  return {
    capacityAh,
    groupResistanceMilliohm: [0.9, 1, 1.1],
    foundMiddleMilliohm: foundMilliohm === null ? {} : { "resistance-10s": foundMilliohm },
    foundCapacityAh: null,
  };
}

test("median and scaled MAD over sound packs, each with its own count", () => {
  const packs = [38, 39, 40, 41, 42, 43, 44, 45, 46].map((capacityAh, index) =>
    soundPack(capacityAh, index < 8 ? 1 + index / 10 : null),
  );
  const population = healthyPopulation(packs);
  if (population.outcome !== "known") throw new Error(population.sentence);
  // Median of 38..46 is 42; absolute deviations 0 to 4 have the median 2; times 1.4826 (R: mad(38:46) gives 2.9652).
  expect(population.builtCapacityAh).toMatchObject({ median: 42, packs: 9 });
  expect(population.builtCapacityAh?.scaledMad).toBeCloseTo(2.9652, 4);
  expect(population.foundMiddleMilliohm["resistance-10s"]).toMatchObject({ median: 1.35, packs: 8 });
  expect(population.foundCapacityAh).toBeNull();
});

test("too few packs of a revision are an answer with their count, not a figure", () => {
  const few = healthyPopulation(Array.from({ length: LEAST_SOUND_PACKS - 1 }, () => soundPack(40, 1)));
  expect(few).toMatchObject({ outcome: "too-few", packs: 7 });
  const told = compareWithBuilt([], [], { built: null, population: few, potted: null }, { cyclesTo80Percent: 1000 });
  expect(told.join(" ")).toContain("too few sound packs of this revision");
});

test("the pack is put beside sound ones by the same method only", () => {
  const population = healthyPopulation(Array.from({ length: 9 }, () => soundPack(40, 0.95)));
  const told = (name: string) =>
    compareWithBuilt(
      built.map((value, index) => ({ ...resistance(index + 1, value), name })),
      [],
      { built: null, population, potted: null },
      { cyclesTo80Percent: 1000 },
    ).join(" ");
  expect(told("resistance-10s")).toContain("9 returned packs of this revision without a confirmed failure");
  expect(told("resistance-1s")).not.toContain("returned packs");
});
