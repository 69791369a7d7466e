import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import type { Fault } from "@/lib/diagnosis/finding";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { type PlainPack, simulatePack } from "../../support/plain-pack";
import { seededRandom } from "../../support/seeded-random";
import { fullUse } from "../../support/use-of-a-pack";

const packsPerClass = 12;

interface Trial {
  readonly pack: PlainPack;
  readonly group: number;
}

/** Packs of 13 to 24 groups, logged every 1 to 60 s with 1 to 5 mV of noise, each a little different; one fault planted. */
function trial(seed: number, plant: (group: number, size: number) => Partial<PlainPack>): Trial {
  const uniform = seededRandom(seed * 7919 + 1);
  const groups = 13 + Math.floor(12 * uniform());
  const intervals = [1, 2, 5, 10, 30, 60];
  const group = 1 + Math.floor(groups * uniform());
  const pack: PlainPack = {
    seed,
    model: { ...plainModel, groups },
    acts: fullUse,
    intervalS: intervals[Math.floor(intervals.length * uniform())] ?? 1,
    noiseMillivolt: 1 + 4 * uniform(),
    resistanceScatter: 0.01 + 0.025 * uniform(),
    offsetScatterPercent: 0.3 + 0.5 * uniform(),
    ambientC: 5 + 25 * uniform(),
  };
  return { pack: { ...pack, ...plant(group, uniform()) }, group };
}

function judge({ pack }: Trial) {
  const log = simulatePack(pack);
  return diagnose({ log, summary: summaryOf(log), model: pack.model }).findings;
}

const classes: readonly (readonly [Fault, (group: number, size: number) => Partial<PlainPack>])[] = [
  ["weak-cell", (group, size) => ({ capacityFactor: { [group]: 0.68 + 0.16 * size } })],
  ["high-resistance-cell", (group, size) => ({ resistanceFactor: { [group]: 1.35 + 0.6 * size } })],
  [
    "high-resistance-joint",
    (group, size) => ({ jointMilliohm: { [group]: (hour) => (hour > 0.9 ? 0.45 + size : 0) } }),
  ],
  ["imbalance", (group, size) => ({ offsetPercent: { [group]: -6.5 - 6 * size } })],
];

// Each class is a few packs with fixed seeds: a regression test of the rules, not an estimate of rates.
test.each(classes)(
  "%s is found in the right group in at least 11 of 12 packs",
  (fault, plant) => {
    const missed: string[] = [];
    for (let seed = 1; seed <= packsPerClass; seed += 1) {
      const one = trial(seed, plant);
      const findings = judge(one);
      const found = findings.some((finding) => finding.fault === fault && finding.groups.includes(one.group));
      if (!found) missed.push(`seed ${seed}: ${findings.map((finding) => finding.fault).join(", ")}`);
    }
    expect(missed.length, missed.join("; ")).toBeLessThanOrEqual(1);
  },
  60_000,
);

test("none of 24 sound packs is given a fault", () => {
  const alarms: string[] = [];
  for (let seed = 101; seed <= 124; seed += 1) {
    const findings = judge(trial(seed, () => ({}))).filter((finding) => finding.fault !== "no-fault-found");
    if (findings.length > 0)
      alarms.push(`seed ${seed}: ${findings.map((finding) => finding.evidenceFor[0]).join(", ")}`);
  }
  expect(alarms).toEqual([]);
}, 60_000);
