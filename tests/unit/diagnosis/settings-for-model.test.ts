import { expect, test } from "vitest";
import { defaultDiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import { ownThresholds, settingsForModel } from "@/lib/diagnosis/settings-for-model";
import { packModelSchema } from "@/lib/packs/pack-model";
import { plainModel } from "../../support/plain-model";

test("a model without thresholds of its own uses the defaults", () => {
  expect(settingsForModel(plainModel)).toEqual({ settings: defaultDiagnosisSettings, notUnderstood: [] });
});

test("a model's threshold takes the place of the default and leaves the others", () => {
  const model = packModelSchema.parse({
    ...plainModel,
    diagnosis: { verdict: { imbalancePercent: 7 }, measure: { cellPlausibleV: [0.4, 4.5] } },
  });
  const { settings, notUnderstood } = settingsForModel(model);
  expect(settings.verdict.imbalancePercent).toBe(7);
  expect(settings.measure.cellPlausibleV).toEqual([0.4, 4.5]);
  expect(settings.verdict.resistanceZ).toBe(defaultDiagnosisSettings.verdict.resistanceZ);
  expect(notUnderstood).toEqual([]);
});

test("a threshold nobody knows, or of the wrong shape, is told", () => {
  const model = { ...plainModel, diagnosis: { verdict: { noSuch: 1 }, tap: { leastErrorV: [0.1, 0.2] }, other: {} } };
  const parsed = packModelSchema.parse(model);
  expect(settingsForModel(parsed).notUnderstood.toSorted()).toEqual(["other", "tap.leastErrorV", "verdict.noSuch"]);
});

test("what a model sets otherwise is told beside the usual value, and what has no shape of a threshold is not guessed at", () => {
  const stored = { verdict: { imbalancePercent: 6, noSuch: 1 }, measure: { cellPlausibleV: [0.4, 4.5] } };
  expect(ownThresholds(stored)).toEqual([
    { name: "measure.cellPlausibleV", value: "0.4 to 4.5", usual: "0.5 to 5" },
    { name: "verdict.imbalancePercent", value: "6", usual: "4" },
    { name: "verdict.noSuch", value: "1", usual: null },
  ]);
  expect(ownThresholds(null)).toEqual([]);
  expect(ownThresholds({ verdict: "strict" })).toBeNull();
});
