import { expect, test } from "vitest";
import { caseFinding } from "@/lib/diagnosis/case-flatness";
import { dangerOf } from "@/lib/returns/danger-signs";
import { suggestionAsItStands, suggestionUnderDanger } from "@/lib/returns/suggestion-under-danger";

const quiet = {
  remedy: "return-as-is",
  reasons: ["All checks passed."],
  plainReasons: [],
  wouldChange: [],
  missing: [],
  ruleVersion: "x",
} as const;

const nothing = { told: dangerOf([]), inHand: [], ofCase: null };
const underCase = (kept: Parameters<typeof suggestionAsItStands>[0], ofCase: ReturnType<typeof caseFinding>) =>
  suggestionAsItStands(kept, { ...nothing, ofCase });

test("a swollen pack with a quiet log is isolated, and the readings' reasons stay below", () => {
  const suggestion = suggestionUnderDanger(quiet, dangerOf(["swollen"]));
  expect(suggestion.remedy).toBe("isolate");
  expect(suggestion.reasons[0]).toMatch(/swollen/);
  expect(suggestion.reasons.at(-1)).toBe("All checks passed.");
});

test("a test under load is no task while the pack is set apart, and stays said for whoever judges it", () => {
  const asked = { ...quiet, reasons: ["Group 4 is weak.", "To confirm: Full cycle at C/5."] };
  const heldBack = "Not before a trained person has judged the pack: Full cycle at C/5.";
  expect(suggestionUnderDanger(asked, dangerOf(["swollen"])).reasons.slice(1)).toEqual(["Group 4 is weak.", heldBack]);
  const inHand = ["Found at goods-in: case dented, cracked or burned."];
  expect(suggestionAsItStands(asked, { ...nothing, inHand })?.reasons.at(-1)).toBe(heldBack);
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
    const under = underCase(suggestion, grown);
    expect(under?.remedy).toBe("isolate");
    expect(under?.reasons[0]).toContain("The gap grew from 0.8 mm when it was built to 6.0 mm");
    if (suggestion !== null) expect(under?.reasons.at(-1)).toBe("All checks passed.");
  }
  expect(underCase(quiet, null)).toBe(quiet);
});

test("a case that was bent keeps the pack from being given back, and is named beside a repair or an isolation", () => {
  const bent = caseFinding({ builtGapMillimetre: 4, foundGapMillimetre: 1 });
  expect(underCase(quiet, bent)?.remedy).toBe("cannot-tell");
  expect(underCase({ ...quiet, remedy: "remote-fix" }, bent)?.remedy).toBe("cannot-tell");
  for (const remedy of ["repair", "isolate"]) {
    const under = underCase({ ...quiet, remedy }, bent);
    expect(under?.remedy).toBe(remedy);
    expect(under?.reasons.at(-1)).toMatch(/^Found on the case: The gap fell from 4\.0 mm/);
  }
});

test("a leak found at goods-in sets the pack apart, whatever the readings suggest and where there are none", () => {
  const inHand = ["Found at goods-in: leaking, or dried traces of it."];
  for (const kept of [quiet, { ...quiet, remedy: "repair" }, null]) {
    const stands = suggestionAsItStands(kept, { ...nothing, inHand });
    expect(stands?.remedy).toBe("isolate");
    expect(stands?.reasons[0]).toMatch(
      /^Found at goods-in: leaking, .* outweighs them until a person has judged it\.$/,
    );
    expect(stands?.plainReasons.join(" ")).toContain("Do not charge it, use it or send it.");
    if (kept !== null) expect(stands?.reasons.at(-1)).toBe("All checks passed.");
  }
  const apart = suggestionAsItStands({ ...quiet, remedy: "isolate" }, { ...nothing, inHand });
  expect(apart?.reasons).toEqual(["All checks passed.", ...inHand]);
});

test("what the dealer told counts without readings too; with them it is in their suggestion already", () => {
  const told = dangerOf(["swollen"]);
  expect(suggestionAsItStands(null, { ...nothing, told })).toMatchObject({ remedy: "isolate" });
  expect(suggestionAsItStands(quiet, { ...nothing, told })).toBe(quiet);
  expect(suggestionAsItStands(null, nothing)).toBeNull();
});
