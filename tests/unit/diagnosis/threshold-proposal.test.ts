import { expect, test } from "vitest";
import { defaultDiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import { settingsForModel } from "@/lib/diagnosis/settings-for-model";
import { namedThresholds, sayThreshold, thresholdChanges } from "@/lib/diagnosis/threshold-fields";
import { readProposedThresholds, thresholdProposalSchema } from "@/lib/diagnosis/threshold-proposal";
import { plainModel } from "../../support/plain-model";

const read = (typed: Record<string, string>, base = {}) => readProposedThresholds(base, typed, plainModel);

test("every threshold of the diagnosis but the fitted calibration is named, with unit, source and a range its usual value lies in", () => {
  const { calibration, ...parts } = defaultDiagnosisSettings;
  const all = Object.entries(parts).flatMap(([part, values]) => Object.keys(values).map((name) => `${part}.${name}`));
  expect(calibration).toBeDefined();
  expect(namedThresholds.map(({ name }) => name).toSorted()).toEqual(all.toSorted());
  const labels = namedThresholds.map(({ part, label }) => `${part} ${label}`);
  expect(new Set(labels).size).toBe(labels.length);
  for (const { name, usual, lowest, highest, unit, source } of namedThresholds) {
    expect(unit, name).not.toBe("");
    expect(source, name).toMatch(/\.$/);
    for (const end of typeof usual === "number" ? [usual] : usual) {
      expect(end, name).toBeGreaterThanOrEqual(lowest);
      expect(end, name).toBeLessThanOrEqual(highest);
    }
  }
});

test("thresholds lie under subjects no longer than a screen or three, and none is left over", () => {
  const subjects = new Set(namedThresholds.map(({ subject }) => subject));
  expect(subjects.size).toBeGreaterThan(12);
  for (const subject of subjects) {
    const inside = namedThresholds.filter((one) => one.subject === subject);
    expect(inside.length, subject).toBeGreaterThanOrEqual(4);
    expect(inside.length, subject).toBeLessThanOrEqual(30);
    expect(new Set(inside.map(({ part }) => part)).size, subject).toBe(1);
  }
});

test("the form as it is shown proposes nothing new", () => {
  const base = { verdict: { imbalancePercent: 6 } };
  const shown = Object.fromEntries(namedThresholds.map(({ name, usual }) => [name, sayThreshold(usual)]));
  expect(read({ ...shown, "verdict.imbalancePercent": "6" }, base)).toEqual({ kind: "thresholds", thresholds: base });
  expect(read({}, base)).toEqual({ kind: "thresholds", thresholds: base });
});

test("a changed value is the model's own, an emptied one is the usual again, a range is two numbers", () => {
  const answer = read(
    { "verdict.imbalancePercent": "", "verdict.resistanceZ": "5,5", "measure.cellPlausibleV": "0.4 to 4.9" },
    { verdict: { imbalancePercent: 6 } },
  );
  if (answer.kind !== "thresholds") throw new Error(JSON.stringify(answer));
  expect(answer.thresholds).toEqual({ verdict: { resistanceZ: 5.5 }, measure: { cellPlausibleV: [0.4, 4.9] } });
  expect(settingsForModel({ ...plainModel, diagnosis: answer.thresholds }).notUnderstood).toEqual([]);
});

test.each([
  ["verdict.imbalancePercent", "much", /a number/],
  ["verdict.imbalancePercent", "40", /from 2 to 10 only/],
  ["acute.hotC", "120", /from 60 to 85 only/],
  ["measure.cellPlausibleV", "0.5", /two numbers/],
  ["measure.cellPlausibleV", "5 to 0.5", /smaller/],
  ["measure.cellPlausibleV", "3 to 5", /limits of this model's cells/],
  ["measure.temperaturePlausibleC", "-40 to 60", /a probe that may be shorted/],
  ["verdict.resistanceRatio", "1.4", /may not be above/],
  ["verdict.resistanceClearRatio", "1.12", /may not be above/],
])("%s = %s is refused at its field", (field, value, sentence) => {
  expect(read({ [field]: value })).toEqual({
    kind: "problems",
    problems: [{ field, sentence: expect.stringMatching(sentence) }],
  });
});

test("a value from before the range stays until it is touched, a name nobody knows is left out, a calibration stays", () => {
  const base = {
    verdict: { imbalancePercent: 12, noSuch: 1 },
    calibration: { imbalance: [-2, 3] as [number, number] },
  };
  const answer = read({ "verdict.imbalancePercent": "12" }, base);
  const kept = { verdict: { imbalancePercent: 12 }, calibration: { imbalance: [-2, 3] } };
  expect(answer).toEqual({ kind: "thresholds", thresholds: kept });
  expect(read({ "verdict.imbalancePercent": "13" }, base).kind).toBe("problems");
});

test("changes are told with unit, before and after", () => {
  expect(
    thresholdChanges({ verdict: { noSuch: 1, imbalancePercent: 6 } }, { verdict: { driftMillivoltPerDay: 2 } }),
  ).toEqual([
    "Imbalance: offset of a group's charge: 6 % of charge before, 4 % of charge (usual) from then on.",
    "Self-discharge: drift at rest against the median group: 3 mV a day (usual) before, 2 mV a day from then on.",
    "verdict.noSuch is left out: no threshold has this name.",
  ]);
});

test("a proposal asks for a reason and a day that exists", () => {
  const given = { model: "QP", onVersion: "", validFrom: "2026-02-30", why: "short" };
  const fields = thresholdProposalSchema.safeParse(given).error?.issues.map(({ path }) => path[0]);
  expect(fields).toEqual(["validFrom", "why"]);
});
