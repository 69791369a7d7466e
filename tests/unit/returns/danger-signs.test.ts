import { expect, test } from "vitest";
import { conditionLabels, conditions } from "@/lib/returns/conditions";
import { dangerAnswers, dangerLabels, dangerOf, dangerSigns } from "@/lib/returns/danger-signs";
import { symptomLabels, symptoms } from "@/lib/returns/symptoms";

test("any sign at all sets the pack apart, and signs of something going on keep everybody away", () => {
  expect(dangerOf(["none-of-these"])).toEqual({ kind: "none" });
  for (const sign of dangerSigns) expect(dangerOf([sign]).kind, sign).not.toBe("none");
  expect(dangerOf(["swollen"])).toEqual({ kind: "set-apart", signs: ["swollen"] });
  expect(dangerOf(["swollen", "hot"])).toEqual({ kind: "keep-away", signs: ["hot", "swollen"] });
});

test("no two answers of a list read the same", () => {
  for (const labels of [dangerLabels, symptomLabels, conditionLabels]) {
    const words = Object.values(labels);
    expect(new Set(words).size).toBe(words.length);
  }
  expect([dangerAnswers.length, symptoms.length, conditions.length]).toEqual([9, 11, 11]);
});
