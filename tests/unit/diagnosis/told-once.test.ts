import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

test.each([0.8, 0.87])(
  "a group of %d of its capacity that is found weak is not said to be unproven or unexplained as well",
  (share) => {
    const log = simulatePack({
      seed: 8,
      model: plainModel,
      intervalS: 10,
      acts: fullUse,
      capacityFactor: { 6: share },
    });
    const { findings, suggestion } = diagnose({ log, summary: summaryOf(log), model: plainModel });
    expect(findings[0]).toMatchObject({ fault: "weak-cell", groups: [6] });
    expect(suggestion.missing.filter((sentence) => sentence.startsWith("Group 6 "))).toEqual([]);
  },
);

test("a group that seems small and is not found weak is still said", () => {
  const log = simulatePack({ seed: 8, model: plainModel, intervalS: 10, acts: fullUse, capacityFactor: { 6: 0.915 } });
  const { findings, suggestion } = diagnose({ log, summary: summaryOf(log), model: plainModel });
  expect(findings.map(({ fault }) => fault)).not.toContain("weak-cell");
  expect(suggestion.missing.join(" ")).toMatch(/Group 6 (?:seems to hold 9\d %|stands [\d.]+ % of charge below)/);
});
