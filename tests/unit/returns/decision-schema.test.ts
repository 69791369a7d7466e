import { expect, test } from "vitest";
import { type DecisionInput, decisionSchema } from "@/lib/returns/decision.schema";

const repair: DecisionInput = {
  remedy: "repair",
  confirmedFault: "high-resistance-joint",
  reason: "Joint of group 7 reads 2.1 mOhm.",
  seenVersion: 4,
};
const told = (over: Record<string, unknown>) =>
  decisionSchema.safeParse({ ...repair, ...over }).error?.issues.map(({ path }) => path.join("."));

test("a decision with its reason is read", () => {
  expect(told({})).toBeUndefined();
  expect(told({ replacementRevisionCode: "" })).toBeUndefined();
  expect(told({ confirmedFault: "unknown" })).toBeUndefined();
  expect(told({ remedy: "replace", replacementRevisionCode: "TR-D" })).toBeUndefined();
});

test("a replacement names its revision, and nothing else does", () => {
  expect(told({ remedy: "replace" })).toEqual(["replacementRevisionCode"]);
  expect(told({ remedy: "replace", replacementRevisionCode: "" })).toEqual(["replacementRevisionCode"]);
  expect(told({ replacementRevisionCode: "TR-D" })).toEqual(["replacementRevisionCode"]);
});

test("refusing a return cannot be decided here", () => {
  expect(told({ remedy: "refuse" })).toEqual(["remedy"]);
  expect(told({ remedy: "cannot-tell" })).toEqual(["remedy"]);
  // Nothing is asked of the revision while the remedy itself is not understood.
  expect(told({ remedy: "refuse", replacementRevisionCode: "TR-D" })).toEqual(["remedy"]);
});

test("a reason too short, a fault unknown to the table and a broken version are told at their fields", () => {
  expect(told({ reason: "broken   " })).toEqual(["reason"]);
  expect(told({ confirmedFault: "gremlins" })).toEqual(["confirmedFault"]);
  expect(told({ seenVersion: 1.5 })).toEqual(["seenVersion"]);
});
