import { expect, test } from "vitest";
import { judgeTrial } from "../../bench/diagnosis/judge-trial";
import { makeTrial } from "../../bench/diagnosis/make-trial";

// Sound iron phosphate packs of the simulator, logged once a minute, in which the fit over the whole log has groups at 69 and
// 84 % while two rests have the same groups at 95 and 99 %: they were called weak, with 98 in 100.

test("a group that the whole log has weak and two rests have sound is neither called weak nor sound", () => {
  for (const place of [242, 400]) {
    const { findings, remedy, reasons } = judgeTrial(makeTrial(127, place));
    expect(findings).toEqual([]);
    expect(remedy).toBe("cannot-tell");
    expect(reasons.filter((reason) => reason.includes("the two contradict each other")).length).toBeGreaterThan(0);
    // The same group is not told of twice.
    expect(
      reasons.filter((reason) => reason.includes("do not prove it") && /Group (?:4|7|8|12|17|18) /.test(reason)),
    ).toEqual([]);
  }
});
