import { expect, test } from "vitest";
import { judgeTrial } from "../../bench/diagnosis/judge-trial";
import { makeTrial } from "../../bench/diagnosis/make-trial";

// Between 66 and 98 % of charge this model's curve is nearly straight, so an offset of charge looks much like a shifted reading.
// A shift of the reading fitted better only beside another charge and 15 % more capacity, which nobody planted.
test("three groups 12 % behind are an imbalance, not three wrong readings", () => {
  const [leading] = judgeTrial(makeTrial(173, 35)).findings;
  expect(leading).toMatchObject({ fault: "imbalance", groups: [1, 18, 21] });
});

// On iron phosphate's flat curve the same pack is read as 4.0 % behind, give or take 0.9, where 6.2 % were planted.
test("groups whose error does not exclude an imbalance keep a pack from being called sound", () => {
  const { findings, remedy, reasons } = judgeTrial(makeTrial(179, 455));
  expect(findings).toEqual([]);
  expect(remedy).toBe("cannot-tell");
  expect(reasons[0]).toMatch(/^Group 1 stands 4\.0 % of charge below .* and 2 other groups much the same/);
});

// Iron phosphate again: two rests had these groups at 86 %, the fit over 78 % of charge at 102 %, behind by as much at both ends.
test("groups that two rests have weak and the whole log has sound are not called weak", () => {
  const { findings } = judgeTrial(makeTrial(181, 227));
  expect(findings.map(({ fault, groups }) => ({ fault, groups }))).toEqual([{ fault: "imbalance", groups: [1, 4, 8] }]);
});
