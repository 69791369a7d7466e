import { expect, test } from "vitest";
import { pathOpenings } from "@/lib/readings/measure/path-openings";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { seededRandom } from "@/lib/stats/seeded-random";
import { judgeTrial } from "../../bench/diagnosis/judge-trial";
import { makeTrial } from "../../bench/diagnosis/make-trial";
import { buildLog, constant, evenTimes } from "../../support/log-builder";

const rows = 600;
const packOhm = 0.004;

/** A ride in pulses of 20 to 80 A; what the path adds to its 4 milliohm, ohm by row; the pack voltage to 0.1 V. */
function openings(addedOhm: (row: number) => number, packStepV = 0.1, lateShare = 0) {
  const noise = seededRandom(11);
  const amps = Float64Array.from({ length: rows }, (_, row) => (row % 12 < 9 ? -20 - 60 * noise() : 0));
  const groupV = amps.map((amp) => 3.7 + 0.001 * amp + 0.001 * (noise() - 0.5));
  const log = buildLog({
    timeS: evenTimes(rows, 10),
    currentA: amps,
    packVoltageV: groupV.map((volt, row) => {
      const late = lateShare * ((amps[row] ?? 0) - (amps[row - 1] ?? 0)) * 0.016 * (row % 5 === 0 ? 1 : 0);
      const seen = 16 * volt + (packOhm + addedOhm(row)) * (amps[row] ?? 0) + late + 0.03 * (noise() - 0.5);
      return Math.round(seen / packStepV) * packStepV;
    }),
    cellVoltagesV: Array.from({ length: 16 }, () => groupV),
    temperatures: [{ name: "Temperature T1", valuesC: constant(rows, 25) }],
  });
  return pathOpenings(surveyRows(log, 40), packStepV / Math.sqrt(12));
}

test("a contact that opens in one row of ten takes more in those rows, and in none takes less", () => {
  const found = openings((row) => (row % 10 === 3 ? 0.012 : 0));
  expect(found?.more).toBeGreaterThan(20);
  expect(found?.less).toBe(0);
  expect((found?.moreOhm ?? 0) * 1000).toBeGreaterThan(8);
  expect((found?.moreOhm ?? 0) * 1000).toBeLessThan(16);
});

test("a steady path shows none, however coarse the pack voltage; rows read at another moment than the current stand off both ways", () => {
  for (const stepV of [0.01, 0.1, 0.5]) expect(openings(() => 0, stepV)).toMatchObject({ more: 0, less: 0 });
  expect(openings(() => 0.02)).toMatchObject({ more: 0, less: 0 });
  const skewed = openings(() => 0, 0.01, 1);
  expect(skewed?.less).toBeGreaterThan((skewed?.more ?? 0) / 8);
});

// Simulated packs in which a lead opened in a few rows under load, three to thirteen times what lies outside the groups else.
test.each([
  [229, 118],
  [191, 278],
])("pack %d/%d: a lead that comes and goes is told, and the pack is repaired", (seed, place) => {
  const { findings, remedy } = judgeTrial(makeTrial(seed, place));
  expect(findings[0]).toMatchObject({ fault: "main-lead", groups: [], safetyClass: "B" });
  expect(remedy).toBe("repair");
});

test("pack 229/844: a sound path read to 0.1 V is no contact, for rounding stands still while nothing flows", () => {
  expect(judgeTrial(makeTrial(229, 844)).findings.filter(({ fault }) => fault !== "no-fault-found")).toEqual([]);
});
