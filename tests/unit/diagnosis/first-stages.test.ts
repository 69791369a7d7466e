import { expect, test } from "vitest";
import { gateSynchrony } from "@/lib/diagnosis/stages/synchrony";
import { nearZeroGroups } from "@/lib/readings/measure/near-zero-groups";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { logOf, packHeaders, packRows, tableText } from "@/tests/support/pack-file";

// Stages 3 and 4 on a pack of four groups, 40 Ah, 1 milliohm each: one row a second, the current a square wave of -20 and 4 A.
const ratedAh = 40;

function logWith(change: (rows: number[][]) => void) {
  const rows = packRows(4, 200);
  change(rows);
  return logOf(tableText(packHeaders(4), rows)).log;
}
function setRow(rows: number[][], row: number, from: number, values: readonly number[]): void {
  rows[row]?.splice(from, values.length, ...values);
}

test("a group at the limits of what a cell can read counts, one beyond them does not", () => {
  const survey = surveyRows(
    logWith((rows) => setRow(rows, 3, 3, [0.5, 5, 0.499, 5.001])),
    ratedAh,
  );
  expect(survey.plausibleGroups[3]).toBe(2);
  expect([survey.lowestV[3], survey.highestV[3], survey.referenceV[3]]).toEqual([0.5, 5, 2.75]);
  expect(survey.sumV[3]).toBeNaN();
});

test("a row with fewer than half of its groups has no middle one, and the log keeps it as it was logged", () => {
  const log = logWith((rows) => setRow(rows, 3, 3, [65.535, 65.535, 65.535]));
  const survey = surveyRows(log, ratedAh);
  expect(survey.plausibleGroups[3]).toBe(1);
  expect(survey.referenceV[3]).toBeNaN();
  expect(log.cellVoltagesV[0]?.[3]).toBe(65.535);
});

test("zeros up to the last group, now here, now there, are frames cut off and no dead groups", () => {
  const log = logWith((rows) => {
    for (const row of [3, 4, 5, 90, 91, 92]) setRow(rows, row, row < 50 ? 5 : 6, row < 50 ? [0, 0] : [0]);
  });
  expect(nearZeroGroups(surveyRows(log, ratedAh))).toEqual([]);
});

test("groups read together with the current pass the gate, with the milliohm that was put in", () => {
  const { resistance, stepCorrelation } = gateSynchrony(
    surveyRows(
      logWith(() => undefined),
      ratedAh,
    ),
  );
  expect(stepCorrelation).toBeCloseTo(1, 6);
  if (resistance.outcome === "refused") throw new Error(resistance.reason);
  expect(resistance.resistance.medianMilliohm).toBeCloseTo(1, 6);
});

test("groups that lag rows behind the current are refused", () => {
  const fresh = packRows(4, 200);
  const late = logWith((rows) => {
    for (let at = 0; at < rows.length; at++) setRow(rows, at, 3, fresh[Math.max(0, at - 2)]?.slice(3, 7) ?? []);
  });
  expect(gateSynchrony(surveyRows(late, ratedAh)).resistance.outcome).toBe("refused");
});

test("too few load steps leave it untold", () => {
  const { resistance, stepCorrelation } = gateSynchrony(
    surveyRows(
      logWith((rows) => {
        for (let at = 0; at < rows.length; at++) setRow(rows, at, 2, [0]);
      }),
      ratedAh,
    ),
  );
  expect(stepCorrelation).toBeNull();
  expect(resistance).toMatchObject({ outcome: "refused", reason: expect.stringContaining("load steps") });
});
