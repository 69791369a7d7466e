import { expect, test } from "vitest";
import { groupLife } from "@/lib/reliability/group-life";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { knownAtOnce } from "@/lib/reliability/reporting-lag";

const life = {
  line: "confirmed",
  group: "A",
  stratum: "M",
  entryDays: 0,
  slackDays: 92,
  dispatched: true,
  detail: null,
} as const;
const running = (exitDays: number, packs: number): LifeCell => ({
  ...life,
  exitDays,
  slackDays: 0,
  status: "running",
  packs,
});
const failed = (exitDays: number, detail = "weak-cell", packs = 1): LifeCell => ({
  ...life,
  exitDays,
  status: "failed",
  detail,
  packs,
});

/** NIST/SEMATECH e-Handbook, 8.4.1.3: ten failures, ten censored at 500. */
const nist = [...[54, 187, 216, 240, 244, 335, 361, 373, 375, 386].map((age) => failed(age)), running(500, 10)];

test("the law is the maximum-likelihood Weibull with likelihood-ratio limits", () => {
  // Shape 1.7207, scale 606.53 (NIST 8.4.1.3); LR limits of the shape 0.905645 to 2.885738: R 4.2.2, survreg.
  const { model } = groupLife(nist, [], knownAtOnce, 0);
  if (model.kind !== "weibull") throw new Error(`a Weibull fit is expected, got ${model.kind}`);
  expect(model.shape).toBeCloseTo(1.720797, 5);
  expect(model.limits.shape.lower).toBeCloseTo(0.905645, 4);
  expect(model.limits.shape.upper).toBeCloseTo(2.885738, 4);
});

test("with few failures the shape is borrowed from the others of the model, and said to be", () => {
  const { model } = groupLife([failed(90), running(200, 50)], nist, knownAtOnce, 0);
  expect(model).toMatchObject({ kind: "assumed-shape", shapeFrom: "the 10 failures of the others of its model" });
});

test.each([
  ["nothing", []],
  ["one pack", [running(10, 1)]],
  ["one failure", [failed(10)]],
  ["all failed at one age", [failed(10, "weak-cell", 9)]],
  ["no failure", [running(400, 100)]],
] as const)("%s gives a named refusal or a defined result, never a broken number", (_, cells) => {
  const result = groupLife(cells, [], knownAtOnce, 0);
  expect(JSON.stringify(result)).not.toMatch(/NaN|Infinity/);
  expect(result.model.kind).toBe("refused");
});

test("the shares of the faults add up to the share failed of any", () => {
  const { faults } = groupLife(
    [failed(50, "sense-wire", 3), failed(90, "weak-cell", 5), running(400, 92)],
    [],
    knownAtOnce,
    0,
  );
  expect(faults.map(({ fault, failures }) => [fault, failures])).toEqual([
    ["weak-cell", 5],
    ["sense-wire", 3],
  ]);
  expect(faults.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(0.08, 12);
});

test("the rate has exact limits: none in 1,000 pack-months is up to 3.69 in 1,000", () => {
  // Garwood, Biometrika 28 (1936) 437-442: upper limit 3.688879 for a count of 0.
  const { rate } = groupLife(
    [running(304.375, 100)].map((cell) => ({ ...cell, exitDays: 304.375 })),
    [],
    knownAtOnce,
    0,
  );
  expect(rate?.rate).toBe(0);
  expect(rate?.upper).toBeCloseTo(3.688879, 5);
});

test("the lag curve lifts the share failed at the latest ages only", () => {
  const reporting = { shareKnown: (lag: number) => (lag >= 30 ? 1 : 0.5), longestLagDays: 30 };
  const cells = [failed(50), failed(95), running(100, 98)];
  const plain = groupLife(cells, [], knownAtOnce, 0).lagCorrected.steps;
  const corrected = groupLife(cells, [], reporting, 0).lagCorrected.steps;
  expect(corrected[0]?.survival).toBeCloseTo(plain[0]?.survival ?? 0, 12);
  expect(1 - (corrected[1]?.survival ?? 1)).toBeGreaterThan(1 - (plain[1]?.survival ?? 0));
});
