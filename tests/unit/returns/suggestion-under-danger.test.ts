import { expect, test } from "vitest";
import { dangerOf } from "@/lib/returns/danger-signs";
import { suggestionUnderDanger } from "@/lib/returns/suggestion-under-danger";

const quiet = {
  remedy: "return-as-is",
  reasons: ["All checks passed."],
  plainReasons: [],
  wouldChange: [],
  missing: [],
  ruleVersion: "x",
} as const;

test("a swollen pack with a quiet log is isolated, and the readings' reasons stay below", () => {
  const suggestion = suggestionUnderDanger(quiet, dangerOf(["swollen"]));
  expect(suggestion.remedy).toBe("isolate");
  expect(suggestion.reasons[0]).toMatch(/swollen/);
  expect(suggestion.reasons.at(-1)).toBe("All checks passed.");
});

test("without a sign the readings' suggestion stands", () => {
  expect(suggestionUnderDanger(quiet, dangerOf(["none-of-these"]))).toBe(quiet);
});

test("what the readings isolate already keeps its own reasons", () => {
  const isolated = { ...quiet, remedy: "isolate" } as const;
  expect(suggestionUnderDanger(isolated, dangerOf(["hot"]))).toBe(isolated);
});
