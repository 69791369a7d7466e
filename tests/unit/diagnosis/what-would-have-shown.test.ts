import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { type PlainPack, simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

const pack: PlainPack = { seed: 8, model: plainModel, acts: fullUse, intervalS: 5 };

function judged(changes: Partial<PlainPack>) {
  const log = simulatePack({ ...pack, ...changes });
  return diagnose({ log, summary: summaryOf(log), model: plainModel }).findings;
}

/** % named in the first sentence that matches. */
function percentIn(sentences: readonly string[], pattern: RegExp): number {
  const found = sentences.flatMap((sentence) => pattern.exec(sentence)?.[1] ?? [])[0];
  if (found === undefined) throw new Error(`no sentence says ${pattern}`);
  return Number(found);
}

test("a sound pack says of how many groups, and from what size on a fault would have shown; one of that size does", () => {
  const sentences = judged({})[0]?.evidenceFor ?? [];
  const higher = percentIn(sentences, /^Resistance of all 16 groups alike, .*; one (\d+) % higher would have shown\.$/);
  const smaller = percentIn(
    sentences,
    /^Capacity and charge of all 16 groups alike .*; one (\d+) % smaller would have shown\.$/,
  );
  // Neither finer than the limits of the classes (15 % and 8.5 %, engineering defaults) nor useless.
  expect(higher).toBeGreaterThanOrEqual(15);
  expect(higher).toBeLessThan(30);
  expect(smaller).toBeGreaterThanOrEqual(8);
  expect(smaller).toBeLessThan(20);
  // Groups scatter: these two stand near the median group without a fault.
  expect(judged({ resistanceFactor: { 9: 1 + higher / 100 }, resistanceScatter: 0.005 })).toContainEqual(
    expect.objectContaining({ fault: "high-resistance-cell", groups: [9] }),
  );
  expect(judged({ capacityFactor: { 7: 1 - smaller / 100 }, capacityScatter: 0.002 })).toContainEqual(
    expect.objectContaining({ fault: "weak-cell", groups: [7] }),
  );
});

test("a group out of balance is told with its capacity as measured, not with a word", () => {
  const [finding] = judged({ offsetPercent: { 4: -9 } });
  expect(finding).toMatchObject({ fault: "imbalance", groups: [4] });
  const said = finding?.evidenceFor.join(" ") ?? "";
  expect(said).toMatch(/it holds \d+ % of what the group in the middle holds \(± \d points\)/);
  expect(said).not.toContain("capacity is normal");
  const percent = Number(/it holds (\d+) %/.exec(said)?.[1]);
  // Made with the capacity of the others, to their scatter of 1 %.
  expect(Math.abs(percent - 100)).toBeLessThanOrEqual(6);
});

test("what falls just short of what was needed is told in as many digits as it takes", () => {
  const acts = [
    { act: "rest", hours: 0.5 },
    { act: "discharge", currentA: 19.7, toPercent: 70 },
  ] as const;
  const log = simulatePack({ ...pack, acts });
  const { missing } = diagnose({ log, summary: summaryOf(log), model: plainModel }).suggestion;
  // A sixth of the 120 A this model bears for long.
  expect(missing.join(" ")).toMatch(/Current never exceeded 19\.[78] A \(20 A are needed\)/);
});
