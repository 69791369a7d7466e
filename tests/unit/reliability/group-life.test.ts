import Papa from "papaparse";
import { expect, test } from "vitest";
import { groupLife } from "@/lib/reliability/group-life";
import { lawCsv, lawPointsCsv } from "@/lib/reliability/group-tables-csv";
import { lawIfFailuresSentence, lawSentence } from "@/lib/reliability/law-sentences";
import { countCells, type LifeCell } from "@/lib/reliability/life-cell";
import { knownAtOnce } from "@/lib/reliability/reporting-lag";
import { fitDefectiveFraction } from "@/lib/stats/defective-fraction";
import { calendarDate } from "@/lib/warranty/calendar";

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

test("were the returns that wait for too long failures, law, picture and rate are those of a fleet in which they are", () => {
  const undecided = (exitDays: number, slackDays: number): LifeCell => ({
    ...failed(exitDays),
    status: "undecided",
    slackDays,
  });
  // Of the ten failures of the table the third and the seventh wait; another was told only last week.
  const waiting = nist.map((cell, i) => (i === 2 || i === 6 ? undecided(cell.exitDays, 92) : cell));
  const told = groupLife([...waiting, undecided(80, 7)], [], knownAtOnce, 40);
  const all = groupLife([...nist, undecided(80, 7)], [], knownAtOnce, 40);
  expect(told.settled.failures).toBe(8);
  expect(told.ifFailures).toEqual({
    undecided: 2,
    settled: all.settled,
    model: all.model,
    plot: all.plot,
    rate: all.rate,
  });
  expect(all.ifFailures).toBeNull();
  expect(lawIfFailuresSentence(told)).toMatch(
    /^2 of its returns have been undecided for 40 days or more and stand in law, picture and rate as packs that had not failed when they were told\. Were they failures: .* fitted to 10 failures: shape .* 10 failures in [0-9]+ pack-months in use/,
  );
  expect(lawIfFailuresSentence(all)).toBe("");
  const about = { dataDate: "2026-11-30", by: "revision", group: "A" };
  const rows = (csv: string) => Papa.parse<Record<string, string>>(csv.trim(), { header: true }).data;
  const taken = "returns undecided for too long taken as failures";
  const settledOn = calendarDate("2026-10-21");
  expect(
    rows(lawCsv(about, { together: told, byModel: [] }, settledOn)).map((row) => [row[taken], row.failures]),
  ).toEqual([
    ["no", "8"],
    ["yes", "10"],
  ]);
  expect(
    rows(lawPointsCsv(about, { together: told, byModel: [] }, settledOn)).filter((row) => row[taken] === "yes"),
  ).toHaveLength(10);
});

test("with few failures the shape is borrowed from the others of the model, and said to be", () => {
  const { model } = groupLife([failed(90), running(200, 50)], nist, knownAtOnce, 0);
  expect(model).toMatchObject({ kind: "assumed-shape", shapeFrom: "the 10 failures of the others of its model" });
  if (model.kind !== "assumed-shape") throw new Error("an assumed shape is expected");
  // The limits of the lent shape as above; scale = (A / r)^(1 / b) with A = 90^b + 50 * 200^b and Garwood's limits for r = 1.
  expect(model.atItsLimits.map(({ shape }) => shape.toFixed(4))).toEqual(["0.9056", "2.8857"]);
  for (const { shape: b, scale, lower, upper } of [model.fit, ...model.atItsLimits]) {
    const a = 90 ** b + 50 * 200 ** b;
    expect(scale).toBeCloseTo(a ** (1 / b), 6);
    expect(lower).toBeCloseTo((a / 5.57164339) ** (1 / b), 4);
    expect(upper).toBeCloseTo((a / 0.025317808) ** (1 / b), 2);
  }
  expect(lawSentence(model)).toMatch(
    /^With only 1 failure it has no shape of its own\. Taking shape 1\.72 from .*, the scale is [0-9]+ months \(95 % limits [0-9]+ to [0-9]+ months\)\./,
  );
  expect(lawSentence(model)).toMatch(
    /; at 0\.91 the scale is .* months\), at 2\.89 the scale is .* months\)\. All rests/,
  );
  expect(lawSentence(model)).not.toMatch(/at least|one-sided/);
  // Where its own wait as well, such returns of the others are failures too, since they move the shape that is lent.
  const waiting: LifeCell = { ...failed(60), status: "undecided", slackDays: 92 };
  const own = groupLife([failed(90), waiting, running(200, 50)], [...nist, waiting], knownAtOnce, 40);
  expect(own.ifFailures?.model).toMatchObject({ shapeFrom: "the 11 failures of the others of its model" });
  expect(lawIfFailuresSentence(own)).toContain(
    "Were it a failure, and such returns of the others of its model with it: With only 2 failures",
  );
});

test("a part that can fail has limits for its share, its shape and its scale, and a single law is not given up lightly", () => {
  const bad = [50, 90, 140, 180, 220, 250, 310, 380, 440, 520, 600, 750].map((age) => failed(age));
  const { model } = groupLife([...bad, running(1500, 400)], [], knownAtOnce, 0);
  if (model.kind !== "part-can-fail") throw new Error(`a part is expected, got ${model.kind}`);
  expect(model.fit.p).toBeLessThan(0.01);
  expect(model.limits.share.upper).toBeLessThan(0.1);
  expect(lawSentence(model)).toMatch(
    /Weibull shape [0-9.]+ \(95 % limits [0-9.]+ to [0-9.]+\), scale [0-9]+ months? \([0-9]+ months? to [0-9]+ months?\), by profile likelihood/,
  );
  // Evidence between 1 and 5 in 100, as one page in twenty has by chance, leaves one law for all.
  const weak = [40, 90, 150, 160, 210, 230].map((age) => failed(age));
  const few = groupLife([...weak, running(300, 3), running(420, 8)], [], knownAtOnce, 0).model;
  const fit = fitDefectiveFraction(countCells([...weak, running(300, 3), running(420, 8)], "confirmed"));
  expect(fit.kind === "fit" && fit.p > 0.01 && fit.p < 0.05).toBe(true);
  expect(few.kind).toBe("weibull");
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
