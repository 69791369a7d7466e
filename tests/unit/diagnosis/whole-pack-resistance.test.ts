import { expect, test } from "vitest";
import type { Baseline } from "@/lib/diagnosis/baseline";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { groupsCalledHigh, resistanceDots } from "@/lib/diagnosis/resistance-dots";
import type { PackModel } from "@/lib/packs/pack-model";
import { defaultStepGates, loadSteps } from "@/lib/readings/measure/load-step-resistance";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { type PlainPack, simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

const pack: PlainPack = { seed: 8, model: plainModel, acts: fullUse, intervalS: 2 };
const allTwice = Object.fromEntries(Array.from({ length: 16 }, (_, index) => [index + 1, 2]));
const { groupResistanceMilliohm: _, ...unknownModel } = plainModel;

function judged(changes: Partial<PlainPack>, model: PackModel = unknownModel, baseline?: Baseline) {
  const log = simulatePack({ ...pack, ...changes });
  return diagnose({ log, summary: summaryOf(log), model, ...(baseline === undefined ? {} : { baseline }) });
}

const alone = "The groups were compared with each other only: were all worn alike, it would not show";

// 1.5 times what sound packs read is an engineering default; a group is built at about 0.9 milliohm after ten seconds.
test("a pack in which every group reads twice its resistance is not called sound where something tells", () => {
  const built = { built: { groupResistanceMilliohm: Array<number>(16).fill(0.88) }, population: null, potted: null };
  for (const { findings, suggestion } of [
    judged({ resistanceFactor: allTwice }, plainModel),
    judged({ resistanceFactor: allTwice }, unknownModel, built),
  ]) {
    expect(findings).toEqual([]);
    expect(suggestion.remedy).toBe("cannot-tell");
    expect(suggestion.reasons.join(" ")).toMatch(
      /\d\.\d times the 0\.\d+ mOhm of (a sound pack of its model|its own build record)/,
    );
  }
  expect(judged({}, plainModel).findings).toMatchObject([{ fault: "no-fault-found", safetyClass: "C" }]);
});

test("where nothing tells, groups are said to be alike and nothing more", () => {
  const [finding] = judged({ resistanceFactor: allTwice }).findings;
  expect(finding?.evidenceFor[0]).toMatch(/^Resistance of all 16 groups alike, from/);
  expect(finding?.evidenceAgainst).toContain(`${alone}.`);
  const cold = judged({ resistanceFactor: allTwice, ambientC: 2, acts: fullUse.slice(0, 3) }, plainModel);
  expect(cold.suggestion.missing.join(" ")).not.toContain("may be worn");
});

test("against sound packs of the revision the same kind of measurement is held", () => {
  const like = { median: 0.7, scaledMad: 0.02, packs: 12 };
  const kinds = ["resistance-1s", "resistance-10s", "resistance-regression"].map((name) => [name, like] as const);
  const population = {
    outcome: "known" as const,
    builtCapacityAh: null,
    builtGroupMilliohm: null,
    foundCapacityAh: null,
    foundMiddleMilliohm: Object.fromEntries(kinds),
    packs: 12,
  };
  const { suggestion } = judged({ resistanceFactor: allTwice }, unknownModel, {
    built: null,
    population,
    potted: null,
  });
  expect(suggestion.reasons.join(" ")).toContain("12 returned packs of its revision without a confirmed failure");
});

const groupAt = (group: number, foundMilliohm: number) => ({
  group,
  builtMilliohm: null,
  foundMilliohm,
  uncertaintyMilliohm: 0.01,
  growth: null,
  standsOut: false,
});
const found = { name: "resistance-10s", method: "steps", conditions: "" };
const groups = [1, 1, 1, 1, 1.3].map((milliohm, index) => groupAt(index + 1, milliohm));

test("a dot above the ratio is high only where a finding says so, by the ratio of its own model", () => {
  const unnamed = resistanceDots({ groups, found }, 1.15, new Set());
  expect(unnamed?.dots.some(({ isMarked }) => isMarked)).toBe(false);
  expect(unnamed?.sentence).toContain("not far enough out of the scatter to be called high");
  expect(unnamed?.sentence).toContain("The verdict rests on the slope over all load steps");
  const named = resistanceDots(
    { groups, found },
    1.15,
    groupsCalledHigh([{ fault: "high-resistance-joint", groups: [5] }]),
  );
  expect(named?.dots.filter(({ isMarked }) => isMarked).map(({ group }) => group)).toEqual([5]);
  expect(named?.sentence).toContain("high also against the scatter of the others");
  expect(resistanceDots({ groups, found }, 1.4, new Set())).toMatchObject({
    thresholdMilliohm: 1.4,
    thresholdWords: "1.4 times the middle group",
  });
});

test("resistance after a step is of steps onto discharge, warm and in the middle of charge, and says all of it", () => {
  const steps = (changes: Partial<PlainPack>) =>
    judged(changes, plainModel).measurements.filter(
      ({ name }) => name === "resistance-10s" || name === "resistance-1s",
    );
  const [first] = steps({});
  expect(first?.conditions).toMatch(
    /^\d+ steps onto discharge, typically \d+ A, \d\d to \d\d % of charge, \d\d to \d\d degC$/,
  );
  expect(Number(/, (\d+) to/.exec(first?.conditions ?? "")?.[1])).toBeGreaterThanOrEqual(20);
  expect(steps({ ambientC: 2, acts: fullUse.slice(0, 3) })).toEqual([]);
  const { timeS, currentA, segment } = simulatePack(pack);
  const all = loadSteps(timeS, currentA, segment, { ...defaultStepGates, leastChangeA: 8 });
  const onto = all.filter(({ fromA, toA }) => toA < fromA && toA < 0);
  const counted = Number(/^\d+/.exec(first?.conditions ?? "")?.[0]);
  expect(counted).toBeLessThanOrEqual(onto.length);
  expect(onto.length).toBeLessThan(all.length);
});
