import { expect, test } from "vitest";
import { caseMoves } from "@/lib/returns/case-moves";
import { returnStatuses } from "@/lib/returns/return-status";
import {
  atGoodsIn,
  inItsPart,
  isDecidedUntested,
  isJudgedForUse,
  mainSteps,
  mayKeepUnit,
} from "@/lib/returns/what-to-show";

test("no step has two places on the page but receiving, which leads to goods-in and is seen where its door is shut", () => {
  const twice = mainSteps.filter((name) => atGoodsIn.includes(name) || inItsPart.includes(name));
  expect(twice).toEqual(["receive"]);
});

test("a decision counts as untested where one may be proposed and no test has begun", () => {
  const tested = returnStatuses.filter((one) => caseMoves.propose.from.includes(one) && !isDecidedUntested(one));
  // What is looked at before it comes in says itself what it rests on.
  expect(tested).toEqual(["in-review", "under-test", "work-in-progress"]);
});

test("a pack is kept to go out instead from the decision to the hand-over", () => {
  expect(returnStatuses.filter(mayKeepUnit)).toEqual(["decided", "work-in-progress", "ready-to-hand-back"]);
});

test("a pack given back to use carries no warning, unless a flag was raised since", () => {
  const repaired = { status: "closed", decidedRemedy: "repair" } as const;
  expect(isJudgedForUse({ ...repaired, flag: "normal" })).toBe(true);
  expect(isJudgedForUse({ ...repaired, flag: "isolate" })).toBe(false);
  expect(isJudgedForUse({ ...repaired, status: "under-test", flag: "normal" })).toBe(false);
});
