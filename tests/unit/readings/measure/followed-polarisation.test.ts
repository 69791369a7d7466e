import { expect, test } from "vitest";
import { followedPolarisation, polarisationBasis } from "@/lib/readings/measure/followed-polarisation";
import { groupResistance } from "@/lib/readings/measure/group-resistance";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { plainModel } from "../../../support/plain-model";
import { type PlainPack, simulatePack } from "../../../support/plain-pack";
import { fullUse } from "../../../support/use-of-a-pack";

function polarisationOf(group: number, changes: Partial<PlainPack>) {
  const log = simulatePack({ seed: 12, model: plainModel, acts: [...fullUse, ...fullUse], ...changes });
  const survey = surveyRows(log, plainModel.ratedCapacityAh);
  const result = groupResistance(survey);
  const basis = result.outcome === "measured" ? polarisationBasis(survey, result.resistance.rows) : null;
  const column = survey.log.cellVoltagesV[group - 1];
  const found = basis === null || column === undefined ? null : followedPolarisation(basis, column);
  if (found === null) throw new Error("load steps do not tell");
  return found;
}

// The pack's polarisation has two branches of 30 s and 900 s; neither is known to the measurement. What the current did between two rows
// moves the charge of all groups alike and no excess, so that a cell reads somewhat less than 1.
test.each([10, 30, 60])("an aged cell polarises as it resists, a weld does not, in rows of %i s", (intervalS) => {
  const cell = polarisationOf(5, { intervalS, resistanceFactor: { 5: 1.4 } });
  expect(cell.error).toBeLessThan(0.2);
  expect(cell.share).toBeGreaterThan(0.5);
  expect(cell.share).toBeLessThan(1.2);
  const joint = polarisationOf(5, { intervalS, jointMilliohm: { 5: () => 0.4 } });
  expect(joint.error).toBeLessThan(0.2);
  expect(Math.abs(joint.share)).toBeLessThan(0.2);
});

test("where one step is too short to polarise anything, the error says so", () => {
  expect(polarisationOf(5, { intervalS: 1, resistanceFactor: { 5: 1.4 } }).error).toBeGreaterThan(1);
});
