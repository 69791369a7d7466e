import { expect, test } from "vitest";
import { fitGroupStates } from "@/lib/readings/measure/group-state-fit";
import { openCircuitCurve } from "@/lib/readings/measure/open-circuit";
import { referenceCharge } from "@/lib/readings/measure/reference-charge";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { plainModel } from "../../../support/plain-model";
import { type PlainPack, simulatePack } from "../../../support/plain-pack";
import { fullUse } from "../../../support/use-of-a-pack";

const quiet = {
  seed: 4,
  model: plainModel,
  acts: fullUse,
  capacityScatter: 0,
  resistanceScatter: 0,
  offsetScatterPercent: 0,
};

function statesOf(changes: Partial<PlainPack>) {
  const survey = surveyRows(simulatePack({ ...quiet, ...changes }), plainModel.ratedCapacityAh);
  const curve = openCircuitCurve(plainModel);
  const charge = curve && referenceCharge(survey, curve);
  if (charge === null) throw new Error("charge cannot be followed");
  return { charge, groups: fitGroupStates(survey, charge).groups };
}

test("80 % of the capacity comes back as a shortfall of a quarter, at 1 s and at 30 s sampling", () => {
  for (const intervalS of [1, 30]) {
    const { groups } = statesOf({ capacityFactor: { 5: 0.8 }, intervalS });
    expect(Math.abs((groups[4]?.shortfall.estimate ?? 0) - 0.25), `${intervalS} s`).toBeLessThan(0.03);
    expect(Math.abs(groups[8]?.shortfall.estimate ?? 1), `${intervalS} s`).toBeLessThan(0.02);
  }
});

test("5 % of charge below the others comes back as an offset, with normal capacity", () => {
  const { groups } = statesOf({ offsetPercent: { 9: -5 } });
  expect(Math.abs((groups[8]?.offsetPercent.estimate ?? 0) + 5)).toBeLessThan(0.5);
  expect(Math.abs(groups[8]?.shortfall.estimate ?? 1)).toBeLessThan(0.03);
});

test("30 % more resistance comes back in its fast and its slow part, without an offset", () => {
  const { groups, charge } = statesOf({ resistanceFactor: { 3: 1.3 } });
  const fast = groups[2]?.fastMilliohm.estimate ?? 0;
  const slow = groups[2]?.slowMilliohm.estimate ?? 0;
  expect(fast / (charge.fastOhm * 1000)).toBeCloseTo(0.3, 1);
  expect(slow / (charge.slowOhm * 1000)).toBeCloseTo(0.3, 1);
  expect(Math.abs(groups[2]?.offsetPercent.estimate ?? 1)).toBeLessThan(0.4);
});

test("a joint adds only to the fast part", () => {
  const { groups } = statesOf({ jointMilliohm: { 3: () => 0.4 } });
  expect(groups[2]?.fastMilliohm.estimate).toBeCloseTo(0.4, 1);
  expect(Math.abs(groups[2]?.slowMilliohm.estimate ?? 1)).toBeLessThan(0.05);
});

test("the median group's capacity is known to a few percent from a ride and a charge", () => {
  expect(Math.abs(100 / statesOf({}).charge.percentPerAh - 40)).toBeLessThan(2);
});
