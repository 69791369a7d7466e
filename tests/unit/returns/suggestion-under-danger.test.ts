import { expect, test } from "vitest";
import { caseFinding } from "@/lib/diagnosis/case-flatness";
import { dangerOf } from "@/lib/returns/danger-signs";
import { suggestionUnderCase, suggestionUnderDanger } from "@/lib/returns/suggestion-under-danger";

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

test("a case that grew isolates the pack whatever the readings say, also where there are none", () => {
  const grown = caseFinding({ builtGapMillimetre: 0.8, foundGapMillimetre: 6 });
  for (const suggestion of [quiet, { ...quiet, remedy: "repair" }, null]) {
    const under = suggestionUnderCase(suggestion, grown);
    expect(under?.remedy).toBe("isolate");
    expect(under?.reasons[0]).toContain("The gap grew from 0.8 mm when it was built to 6.0 mm");
    if (suggestion !== null) expect(under?.reasons.at(-1)).toBe("All checks passed.");
  }
  expect(suggestionUnderCase(quiet, null)).toBe(quiet);
});

test("a case that was bent keeps the pack from being given back, and is named beside a repair or an isolation", () => {
  const bent = caseFinding({ builtGapMillimetre: 4, foundGapMillimetre: 1 });
  expect(suggestionUnderCase(quiet, bent)?.remedy).toBe("cannot-tell");
  expect(suggestionUnderCase({ ...quiet, remedy: "remote-fix" }, bent)?.remedy).toBe("cannot-tell");
  for (const remedy of ["repair", "isolate"]) {
    const under = suggestionUnderCase({ ...quiet, remedy }, bent);
    expect(under?.remedy).toBe(remedy);
    expect(under?.reasons.at(-1)).toMatch(/^Found on the case: The gap fell from 4\.0 mm/);
  }
});
