import { expect, test } from "vitest";
import { judgeTrial } from "../../bench/diagnosis/judge-trial";
import { makeTrial } from "../../bench/diagnosis/make-trial";

/** Fault and groups of what is said of a pack of the simulator. */
function said(place: number) {
  const { findings, remedy } = judgeTrial(makeTrial(191, place));
  return { remedy, found: findings.map(({ fault, groups }) => ({ fault, groups })) };
}

// The median group of 191/330 hardly rests and lies on a flat of its curve: alone it says 9 % too much charge per Ah, and a group that holds
// 84 % of the others' fits no cause at that scale. That of 191/109, on iron phosphate, says nothing: 0.87 ± 0.78 of the rated scale.
test("the scale of charge is told by all groups together where one of them fits no cause at the scale the middle one gives", () => {
  expect(said(330).found).toEqual([{ fault: "weak-cell", groups: [1] }]);
  expect(said(109).found).toEqual([{ fault: "imbalance", groups: [15] }]);
});

test("a group ahead of the others where the pack is full and level with them where it is empty is not called weak", () => {
  // A sound pack of iron phosphate with a balancer at work.
  expect(said(165)).toEqual({ remedy: "cannot-tell", found: [] });
});

test("what a weak group reads at a charge the others never went through is no evidence by a curve that is not the pack's own", () => {
  expect(said(676).found).toEqual([{ fault: "weak-cell", groups: [9] }]);
});

test("coarse readings that flicker from row to row are noise: a sound pack is not said to move unlike the others", () => {
  expect(said(40)).toEqual({ remedy: "return-as-is", found: [{ fault: "no-fault-found", groups: [] }] });
});
