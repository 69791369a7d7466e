import { expect, test } from "vitest";
import { packSum } from "@/lib/readings/measure/pack-sum";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { buildLog, evenTimes } from "../../../support/log-builder";
import { seededRandom } from "../../../support/seeded-random";

const ratedAh = 40;
const [groupOhm, leadOhm] = [0.001, 0.0024];

/** Sixteen groups behind leads of 2.4 mOhm: 2,000 rows of load in steps, then 6,000 at rest, the current read to 50 mA. */
function logOf(currentRead: (row: number, readA: number) => number) {
  const random = seededRandom(3);
  const rows = 8000;
  const trueA = Float64Array.from({ length: rows }, (_, row) =>
    row < 2000 && Math.floor(row / 10) % 2 === 0 ? -60 : 0,
  );
  const cellV = trueA.map((ampere) => 3.7 + groupOhm * ampere);
  return buildLog({
    timeS: evenTimes(rows, 10),
    currentA: trueA.map((ampere, row) => currentRead(row, ampere + 0.1 * (random() - 0.5))),
    cellVoltagesV: Array.from({ length: 16 }, () => cellV),
    packVoltageV: trueA.map((ampere, row) => 16 * (cellV[row] ?? 0) + leadOhm * ampere + 0.02 * (random() - 0.5)),
  });
}

test("a part of the log in which only the sensor's noise changes tells nothing of the leads", () => {
  const { pieces, outsideOhm } = packSum(
    surveyRows(
      logOf((_, readA) => readA),
      ratedAh,
    ),
  );
  expect(outsideOhm).toBeCloseTo(leadOhm, 4);
  for (const piece of pieces)
    if (piece.fromRow >= 2000) expect(piece.outsideErrorOhm).toBe(Number.POSITIVE_INFINITY);
    else expect(piece.outsideOhm).toBeCloseTo(leadOhm, 3);
});

test("rows that lack their current are no rows without load", () => {
  const silent = logOf((row, readA) => (row % 1000 >= 500 ? Number.NaN : readA));
  const { pieces } = packSum(surveyRows(silent, ratedAh));
  for (const { outsideOhm, outsideErrorOhm } of pieces)
    if (Number.isFinite(outsideErrorOhm)) expect(outsideOhm).toBeCloseTo(leadOhm, 3);
});
