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
