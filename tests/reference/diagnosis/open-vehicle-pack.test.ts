import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { defaultDiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import { gatherEvidence } from "@/lib/diagnosis/gather-evidence";
import { groupResistance } from "@/lib/readings/measure/group-resistance";
import { firstRows } from "@/lib/readings/measure/log-part";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { summaryOf } from "../../support/log-builder";
import { openVehiclePack, vehicleModel } from "../../support/open-vehicle-pack";

// Extracts of BatICM/unsupervised-battery-faults @57bb1c0, MIT (Nie et al., Energy 323 (2025) 135754). Slopes were computed from the
// extract by an independent script: pairs with |dI| > 10 A (the file counts in 0.1 A) and 0 < dt <= 31 s. The authors' fault labels are
// not in the files: that group 63 is resistive is a reading of the data.
const riding = openVehiclePack("readings/data/evpack_car4_first800.csv");
const event = openVehiclePack("readings/data/evpack_car4_event.csv");

test.skipIf(riding === null)("the open vehicle pack: resistances of the 87 groups on 146 load steps", () => {
  if (riding === null) return;
  const survey = surveyRows(riding, vehicleModel.ratedCapacityAh);
  const result = groupResistance(survey, { leastChangeA: 10.05, longestS: 31, pairsNeeded: 30 });
  if (result.outcome !== "measured") throw new Error(result.reason);
  const { resistance } = result;
  expect(resistance.pairs).toBe(146);
  expect(resistance.medianMilliohm).toBeCloseTo(0.3706, 4);
  expect(resistance.milliohm[62]).toBeCloseTo(0.4544, 4);
  expect(resistance.milliohm[18]).toBeCloseTo(0.3988, 4);
  expect(Math.abs((resistance.packMilliohm ?? 0) - 56.51)).toBeLessThan(0.01);
  expect(Math.abs(resistance.sumMilliohm - 32.3)).toBeLessThan(0.01);
  const z = (group: number) =>
    ((resistance.milliohm[group - 1] ?? 0) - resistance.medianMilliohm) / resistance.scaledMadMilliohm;
  expect(z(63)).toBeCloseTo(9.4, 1);
  expect(z(19)).toBeCloseTo(3.2, 1);
});

test.skipIf(riding === null)(
  "group 63 alone is called resistive, group 19 only watched, no wiring is suspected",
  () => {
    if (riding === null) return;
    const { findings } = diagnose({ log: riding, summary: summaryOf(riding), model: vehicleModel });
    expect(new Set(findings.map((finding) => finding.fault))).toEqual(
      new Set(["high-resistance-cell", "high-resistance-joint"]),
    );
    expect(findings.flatMap((finding) => finding.groups)).toEqual([63, 63]);
  },
);

test.skipIf(event === null)("the event file is an emergency although its first row looks like wiring", () => {
  if (event === null) return;
  // Read in the file: 341.8 V, then 327.1 V with group 29 at 5.000 V, group 32 at 1.995 V and eight groups without a value.
  const { findings, suggestion } = diagnose({ log: event, summary: summaryOf(event), model: vehicleModel });
  expect(findings[0]).toMatchObject({ fault: "acute-event", safetyClass: "A0" });
  expect(findings[0]?.groups).toEqual(expect.arrayContaining([29, 32]));
  expect(findings[0]?.evidenceFor[0]).toContain("from 341.8 to 327.1 V");
  expect(findings.map((finding) => finding.fault)).not.toContain("sense-wire");
  expect(findings.map((finding) => finding.fault)).not.toContain("no-fault-found");
  expect(suggestion.remedy).toBe("isolate");
});

test.skipIf(event === null)("the emergency is seen even where the log ends with its first row", () => {
  if (event === null) return;
  const fallRow = event.packVoltageV.findIndex((volt) => volt < 330);
  const cut = firstRows(event, fallRow + 1);
  const { findings } = diagnose({ log: cut, summary: summaryOf(cut), model: vehicleModel });
  expect(findings[0]).toMatchObject({ fault: "acute-event", safetyClass: "A0" });
});

test.skipIf(riding === null || event === null)(
  "no row of the vehicle extracts before the event meets the tap signature",
  () => {
    for (const log of [riding, event]) {
      if (log === null) return;
      expect(gatherEvidence(log, summaryOf(log), vehicleModel, defaultDiagnosisSettings).taps).toEqual([]);
    }
  },
);
