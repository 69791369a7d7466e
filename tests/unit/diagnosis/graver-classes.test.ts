import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { driftSentence } from "@/lib/diagnosis/drift-summary";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { type PlainPack, simulatePack } from "../../support/plain-pack";
import { seededRandom } from "../../support/seeded-random";
import { fullUse, parkedUse } from "../../support/use-of-a-pack";

// What makes a fault graver than its usual class, and what lies between usual and fault. Engineering defaults, no source.

const pack: PlainPack = { seed: 8, model: plainModel, acts: fullUse, intervalS: 5 };

function judged(log: ReadingLog) {
  return diagnose({ log, summary: summaryOf(log), model: plainModel });
}

function found(log: ReadingLog, fault: string) {
  return judged(log).findings.find((finding) => finding.fault === fault);
}

/** The same log with so many K added to the second probe, by share of the log. */
function warmer(log: ReadingLog, addedK: (share: number) => number): ReadingLog {
  const temperatures = log.temperatures.map((one, index) =>
    index === 1 ? { ...one, valuesC: one.valuesC.map((warm, row) => warm + addedK(row / log.rows)) } : one,
  );
  return { ...log, temperatures };
}

test("a leak beside which a probe warms is quarantined; without a witness that is said", () => {
  const log = simulatePack({ ...pack, acts: parkedUse, intervalS: 60, leakA: { 6: 0.012 } });
  expect(found(log, "self-discharge")).toMatchObject({ groups: [6], safetyClass: "B" });
  const growing = found(
    warmer(log, (share) => 2.5 * share),
    "self-discharge",
  );
  expect(growing).toMatchObject({ groups: [6], safetyClass: "A1" });
  expect(growing?.evidenceFor.join(" ")).toContain("a leak that warms");
  const [first] = log.temperatures;
  for (const temperatures of [[], first === undefined ? [] : [first]]) {
    const unwatched = found({ ...log, temperatures }, "self-discharge");
    expect(unwatched).toMatchObject({ safetyClass: "B" });
    expect(unwatched?.evidenceAgainst[0]).toMatch(/^Whether it warms could not be seen/);
  }
  const ambient = first?.valuesC.map((warm, row) => warm - (4 * row) / log.rows) ?? null;
  const against = { ...log, temperatures: first === undefined ? [] : [first], ambientTemperatureC: ambient };
  expect(found(against, "self-discharge")).toMatchObject({ safetyClass: "A1" });
});

test("a group that falls 2 mV per day is watched: neither usual nor a fault, and the pack is not sound before the rest is repeated", () => {
  const acts = [...fullUse, { act: "rest", hours: 60 }] as const;
  const watched = simulatePack({ ...pack, acts, intervalS: 60, leakA: { 6: 0.0026 } });
  const { findings, suggestion } = judged(watched);
  expect(findings).toEqual([]);
  expect(suggestion.remedy).toBe("cannot-tell");
  expect(suggestion.missing.join(" ")).toMatch(/Watch group 6, [12]\.\d\d mV per day \(95 % limits/);
  expect(suggestion.reasons.at(-1)).toMatch(
    /^To be able to tell: Rest of 7 days near half charge .* whether group 6 goes/,
  );
  const still = judged(simulatePack({ ...pack, acts, intervalS: 60 })).findings[0];
  expect(still).toMatchObject({ fault: "no-fault-found", safetyClass: "C" });
  expect(still?.evidenceFor.join(" ")).toMatch(/No group falls by more than 3 mV per day .* fastest group/);
  expect(still?.evidenceAgainst.join(" ")).not.toContain("Watch group");
});

test.each([
  [-0.5, "within the 1 mV per day that are usual"],
  [-2, "more than the 1 mV per day that are usual, less than the 3 of a fault"],
  [-4, "beyond 3 mV per day"],
])("a slope of %d mV per day is told in its band", (millivoltPerDay, words) => {
  const still = { millivolt: [], millivoltPerDay: 0, errorMillivoltPerDay: 0.1 };
  const drift = { outcome: "drawn", days: [], restDays: 3, rests: 1, limitMillivoltPerDay: 3, isShort: false } as const;
  expect(driftSentence({ ...drift, groups: [still, { ...still, millivoltPerDay }] })).toContain(words);
});

test("a cell of high resistance in a pack that is hot in one place is damaged", () => {
  const log = simulatePack({ ...pack, resistanceFactor: { 9: 1.5 } });
  expect(found(log, "high-resistance-cell")).toMatchObject({ groups: [9], safetyClass: "C" });
  expect(
    found(
      warmer(log, () => 14),
      "high-resistance-cell",
    ),
  ).toMatchObject({ groups: [9], safetyClass: "B" });
});

test("probes far apart keep a pack from being called sound; near ones are told with how near", () => {
  const log = simulatePack(pack);
  expect(judged(log).findings[0]?.evidenceFor.join(" ")).toMatch(/Temperature probes agree within \d\.\d K under load/);
  const { findings, suggestion } = judged(warmer(log, () => 14));
  expect(findings).toEqual([]);
  expect(suggestion.remedy).toBe("cannot-tell");
  expect(suggestion.reasons.join(" ")).toMatch(/lie 1\d\.\d K apart under load/);
  const alone = judged({ ...log, temperatures: log.temperatures.slice(0, 1) }).findings[0];
  expect(alone?.evidenceFor.join(" ")).not.toContain("Temperature probes");
  expect(alone?.evidenceAgainst.join(" ")).toContain("Only one temperature probe was sound");
});

test("a pack with less than six tenths of its capacity left is damaged, one with two thirds is worn", () => {
  const emptied = (factor: number) => {
    const capacityFactor = Object.fromEntries(Array.from({ length: 16 }, (_, index) => [index + 1, factor]));
    const acts = [
      { act: "rest", hours: 0.5 },
      { act: "discharge", currentA: 12, toPercent: 0.5 },
      { act: "rest", hours: 1 },
    ] as const;
    const log = simulatePack({ ...pack, acts, startPercent: 99.8, offsetScatterPercent: 0.1, capacityFactor });
    return found(log, "weak-cell");
  };
  expect(emptied(0.66)).toMatchObject({ groups: [], safetyClass: "C" });
  expect(emptied(0.55)).toMatchObject({ groups: [], safetyClass: "B" });
});

test("a weak group that also falls behind while the pack rests is damaged", () => {
  const acts = [...fullUse, { act: "rest", hours: 60 }] as const;
  const weak = (leakA: number) =>
    found(simulatePack({ ...pack, acts, intervalS: 30, capacityFactor: { 4: 0.8 }, leakA: { 4: leakA } }), "weak-cell");
  expect(weak(0)).toMatchObject({ groups: [4], safetyClass: "C" });
  expect(weak(0.0028)).toMatchObject({ groups: [4], safetyClass: "B" });
});

// A cell plates where it is coldest: the lowest sound probe against the window, with no margin (cautious default, no source).
test("a charge with only the coldest place under the window is a charge in the cold", () => {
  const acts = [{ act: "charge", currentA: 16, toPercent: 96 }] as const;
  const log = simulatePack({ ...pack, acts, startPercent: 80, ambientC: 3 });
  expect(found(log, "outside-cause")).toBeUndefined();
  const cold = judged(warmer(log, () => -6));
  const cause = cold.findings.find(({ fault }) => fault === "outside-cause");
  expect(cause).toMatchObject({ safetyClass: "B" });
  expect(cause?.evidenceFor[0]).toMatch(/^Cold charge: 1 time/);
  expect(cold.suggestion.remedy).toBe("cannot-tell");
  expect(cold.suggestion.plainReasons.join(" ")).not.toContain("looks sound");
});

test("what is measured of a group whose reading is at fault is marked void and carries no state of health", () => {
  const log = simulatePack({ ...pack, acts: parkedUse, intervalS: 30 });
  const uniform = seededRandom(1);
  const errorV = Float64Array.from({ length: log.rows }, () => (uniform() > 0.03 ? 0 : 0.1 + 0.5 * uniform()));
  const sign = (index: number) => (index === 6 ? 1 : index === 7 ? -1 : 0);
  const cellVoltagesV = log.cellVoltagesV.map((cell, index) =>
    cell.map((volt, row) => volt + sign(index) * (errorV[row] ?? 0)),
  );
  const { measurements, findings } = judged({ ...log, cellVoltagesV });
  expect(findings[0]).toMatchObject({ fault: "sense-wire", groups: [7, 8] });
  const ofDrift = measurements.filter(({ name }) => name === "rest-drift");
  expect(ofDrift.filter(({ conditions }) => conditions.includes("void")).map(({ group }) => group)).toEqual([7, 8]);
  expect(measurements.find(({ name }) => name === "state-of-health")?.conditions ?? "").not.toMatch(
    /groups? [\d, and]*\b[78]\b/,
  );
});
