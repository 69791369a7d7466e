import { expect, test } from "vitest";
import { addsBothWays, contactBasis, contactScatter } from "@/lib/readings/measure/contact-scatter";
import { groupResistance } from "@/lib/readings/measure/group-resistance";
import { pathScatter } from "@/lib/readings/measure/path-scatter";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { staleShare } from "@/lib/readings/measure/stale-groups";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { buildLog } from "../../../support/log-builder";
import { seededRandom } from "../../../support/seeded-random";

/** Six groups of exactly 1 mOhm, group 3 with `extra` ohm, leads of 2 mOhm with `lead` ohm more; load by a coin, closed form. */
function packLog(extra: (row: number) => number, lead: (row: number) => number = () => 0): ReadingLog {
  const uniform = seededRandom(5);
  const rows = 400;
  const currentA = Float64Array.from({ length: rows }, (_, row) => (row % 40 < 8 ? 0 : -Math.round(60 * uniform())));
  const cells = Array.from({ length: 6 }, (_, k) =>
    currentA.map((amp, row) => 3.8 + amp * (0.001 + (k === 2 ? extra(row) : 0)) + 0.0004 * (uniform() - 0.5)),
  );
  const packVoltageV = currentA.map(
    (amp, row) => cells.reduce((sum, cell) => sum + (cell[row] ?? 0), 0) + amp * (0.002 + lead(row)),
  );
  const timeS = Array.from({ length: rows }, (_, row) => row);
  return buildLog({ timeS, currentA, packVoltageV, cellVoltagesV: cells });
}

function measured(log: ReadingLog) {
  const survey = surveyRows(log, 40);
  const result = groupResistance(survey);
  if (result.outcome === "refused") throw new Error(result.reason);
  return { survey, rows: result.resistance.rows };
}

/** Of 1 mOhm too much in group 3. */
function scatterOfThird({ survey, rows }: ReturnType<typeof measured>): number | undefined {
  const basis = contactBasis(survey, rows);
  const column = survey.log.cellVoltagesV[2];
  return basis === null || column === undefined ? undefined : contactScatter(basis, column, 0.001)?.share;
}

test("an excess that follows the load does not scatter, one that opens and closes does", () => {
  const steady = measured(packLog(() => 0.001));
  expect(scatterOfThird(steady)).toBeLessThan(0.05);
  const contact = measured(packLog((row) => (row % 3 === 0 ? 0.003 : 0)));
  expect(scatterOfThird(contact)).toBeGreaterThan(0.8);
});

test("a contact adds as the load rises and as it falls, a group that runs empty falls whichever way it goes", () => {
  const thirdAddsBothWays = (log: ReadingLog) => {
    const { survey, rows } = measured(log);
    const basis = contactBasis(survey, rows);
    const column = survey.log.cellVoltagesV[2];
    return basis !== null && column !== undefined && addsBothWays(basis, column);
  };
  expect(thirdAddsBothWays(packLog((row) => (row % 3 === 0 ? 0.003 : 0)))).toBe(true);
  const emptying = packLog(() => 0);
  const third = emptying.cellVoltagesV[2];
  // 5 mV from row to row, whatever the load does.
  for (let row = 0; row < (third?.length ?? 0); row += 1)
    if (third !== undefined) third[row] = (third[row] ?? 0) - 0.005 * row;
  expect(thirdAddsBothWays(emptying)).toBe(false);
});

test("a lead that makes and breaks scatters from step to step, a steady one does not", () => {
  const sound = measured(packLog(() => 0));
  expect(pathScatter(sound.survey, sound.rows)?.scatterOhm).toBeLessThan(0.0001);
  const loose = measured(
    packLog(
      () => 0,
      (row) => (row % 5 < 2 ? 0.01 : 0),
    ),
  );
  expect(pathScatter(loose.survey, loose.rows)?.scatterOhm).toBeGreaterThan(0.002);
});

test("groups that repeat their last value at most load steps are stale, groups read at once are not", () => {
  const log = packLog(() => 0);
  const live = measured(log);
  expect(staleShare(live.survey, live.rows, 0.001)).toBeLessThan(0.05);
  for (const cell of log.cellVoltagesV)
    for (const row of cell.keys()) if (row % 5 !== 0) cell[row] = cell[row - 1] ?? 3.8;
  const stale = surveyRows(log, 40);
  expect(staleShare(stale, live.rows, 0.001)).toBeGreaterThan(0.5);
});
