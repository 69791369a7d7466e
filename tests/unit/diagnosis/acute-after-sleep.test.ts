import { expect, test } from "vitest";
import { judgeTrial } from "../../bench/diagnosis/judge-trial";
import { makeTrial } from "../../bench/diagnosis/make-trial";

// Simulated packs of which a group shorted inside while the board slept: the heat was seen, and no group was named.
test.each([
  [163, 71, 3],
  [179, 307, 13],
])("pack %d/%d: the group that failed while the board slept is named beside the heat", (seed, place, group) => {
  const [leading] = judgeTrial(makeTrial(seed, place)).findings;
  expect(leading).toMatchObject({ fault: "acute-event", groups: [group], safetyClass: "A0" });
  expect(leading?.evidenceFor.join(" ")).toMatch(
    new RegExp(`group ${group} stands \\d+ mV lower against the other groups`),
  );
});

test("pack 233/697: the group that fell within the first minute of the log, before the pack was seen to rest, is named with the heat", () => {
  const [leading] = judgeTrial(makeTrial(233, 697)).findings;
  expect(leading).toMatchObject({ fault: "acute-event", groups: [11], safetyClass: "A0" });
});

test("pack 233/675: a group that loses half its volts at rest is an emergency without current, temperature or pack voltage logged, though its coarse readings break the rest up", () => {
  const [leading] = judgeTrial(makeTrial(233, 675)).findings;
  expect(leading).toMatchObject({ fault: "acute-event", groups: [5], safetyClass: "A0" });
});

test("pack 229/697: groups that give no volts any more from the heat on are named with it, though the board cuts frames meanwhile", () => {
  const [leading] = judgeTrial(makeTrial(229, 697)).findings;
  expect(leading).toMatchObject({ fault: "acute-event", groups: [7, 8, 9], safetyClass: "A0" });
  expect(leading?.evidenceFor.join(" ")).toContain(
    "gives no sensible voltage any more, to the end of the file, and it is hot",
  );
});

test("pack 229/25, sound: on a board that reads five groups at a time a group that repeats its value fell with those read beside it", () => {
  expect(judgeTrial(makeTrial(229, 25)).findings.filter(({ fault }) => fault === "acute-event")).toEqual([]);
});
