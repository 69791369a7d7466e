import { expect, test } from "vitest";
import { conditionLabels, conditions } from "@/lib/returns/conditions";
import { dangerAnswers, dangerLabels, dangerOf, dangerSigns } from "@/lib/returns/danger-signs";
import { dealerScript } from "@/lib/returns/dealer-script";
import { symptomLabels, symptoms } from "@/lib/returns/symptoms";

test("any sign at all sets the pack apart, and signs of something going on keep everybody away", () => {
  expect(dangerOf(["none-of-these"])).toEqual({ kind: "none" });
  for (const sign of dangerSigns) expect(dangerOf([sign]).kind, sign).not.toBe("none");
  expect(dangerOf(["swollen"])).toEqual({ kind: "set-apart", signs: ["swollen"] });
  expect(dangerOf(["swollen", "hot"])).toEqual({ kind: "keep-away", signs: ["hot", "swollen"] });
});

test("every script forbids charging, opening and sending, and defers to the local emergency services", () => {
  for (const answers of [["none-of-these"], ["swollen"], ["smoke-or-smell"]] as const) {
    const script = dealerScript(dangerOf(answers));
    const donts = script.donts.join(" ");
    for (const forbidden of [/not charge/, /not open/, /post, parcel or air/]) expect(donts).toMatch(forbidden);
    expect(script.does.join(" ")).toMatch(/local emergency services and rules/);
  }
});

test("with something going on the first thing told is to get people away, and nobody is told to carry the pack", () => {
  const script = dealerScript(dangerOf(["hot"]));
  expect(script.does[0]).toMatch(/everyone away/);
  expect(script.does.join(" ")).not.toMatch(/bring|carry|move it/i);
  expect(script.donts.join(" ")).toMatch(/not carry/);
});

test("no two answers of a list read the same", () => {
  for (const labels of [dangerLabels, symptomLabels, conditionLabels]) {
    const words = Object.values(labels);
    expect(new Set(words).size).toBe(words.length);
  }
  expect([dangerAnswers.length, symptoms.length, conditions.length]).toEqual([9, 11, 11]);
});
