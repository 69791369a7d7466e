import { expect, test } from "vitest";
import { defaultDiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import { settingsForModel } from "@/lib/diagnosis/settings-for-model";
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
