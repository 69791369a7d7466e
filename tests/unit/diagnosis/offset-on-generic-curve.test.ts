import { expect, test } from "vitest";
import { offsetDoubt, shortfallError } from "@/lib/diagnosis/capacity-shares";
import { defaultVerdictThresholds } from "@/lib/diagnosis/verdict-thresholds";
import type { GroupStateFit } from "@/lib/readings/measure/group-state-fit";

/** Offsets of three groups, % of charge, over a log that swept from 28 to 98 %. */
function doubtOf(offsets: readonly number[], source: "pack model" | "generic NMC", group: number): number {
  const groups = offsets.map((estimate) => ({ offsetPercent: { estimate, sd: 0.5 } }));
  const evidence = {
    states: { groups } as unknown as GroupStateFit,
    charge: { window: [28, 98] },
    curve: { source },
    settings: { verdict: defaultVerdictThresholds },
  };
  return offsetDoubt(evidence as unknown as Parameters<typeof offsetDoubt>[0], group);
}

test("on a curve not the pack's own a shortfall is doubted by the share of its slope times the offset over half of what was swept", () => {
  const share = defaultVerdictThresholds.genericSlopeShare;
  expect(doubtOf([0, 20, 0], "generic NMC", 2)).toBeCloseTo((share * 20) / 35, 12);
  expect(doubtOf([1, 1, 1], "generic NMC", 2)).toBe(0);
  expect(doubtOf([0, 20, 0], "pack model", 2)).toBe(0);
});

test("with an offset of 20 % a shortfall of 14 % is not told on such a curve; a weak group, level when full, still is", () => {
  const isTold = (shortfall: number, offset: number) =>
    shortfall >=
    defaultVerdictThresholds.weakSigmas * shortfallError(0.014, 70, doubtOf([0, offset, 0], "generic NMC", 2));
  expect(isTold(0.16, 20)).toBe(false);
  // Level at 98 %: at the middle of what was swept it lies behind by its shortfall times half of that.
  for (const shortfall of [0.14, 0.2, 0.4]) expect(isTold(shortfall, -shortfall * 35)).toBe(true);
});
