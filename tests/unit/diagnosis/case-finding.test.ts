import { expect, test } from "vitest";
import {
  caseFinding,
  findingOfGaps,
  gapsThatCount,
  largestJudgedGap,
  openCaseFinding,
} from "@/lib/diagnosis/case-flatness";

const on = (day: number) => new Date(Date.UTC(2026, 9, day));

test("a gap that grew is a finding of damage that quarantines, one that fell asks for the mark of a blow", () => {
  // F15 of the fault table: damage or swelling of the case is quarantined.
  const grown = caseFinding({ builtGapMillimetre: 0.8, foundGapMillimetre: 6 });
  expect(grown).toMatchObject({ fault: "mechanical-damage", groups: [], safetyClass: "A1" });
  expect(grown?.evidenceFor[0]).toContain("The gap grew from 0.8 mm when it was built to 6.0 mm");
  const bent = caseFinding({ builtGapMillimetre: 4, foundGapMillimetre: 1 });
  expect(bent).toMatchObject({ fault: "mechanical-damage", safetyClass: "B" });
  expect(bent?.nextTest).toContain("mark of a blow");
});

test("a case that was bowed from new and stayed so, or of which nobody knows how it was, is no finding", () => {
  expect(caseFinding({ builtGapMillimetre: 6, foundGapMillimetre: 6.4 })).toBeNull();
  expect(caseFinding({ builtGapMillimetre: null, foundGapMillimetre: 6 })).toBeNull();
});

test("no reading withdraws another until a named person judged the pack", () => {
  const readings = [
    { gapMillimetre: 0.9, readAt: on(5) },
    { gapMillimetre: 6, readAt: on(3) },
  ];
  expect(gapsThatCount(readings, null)).toEqual({ largestMillimetre: 6, smallestMillimetre: 0.9 });
  expect(gapsThatCount(readings, on(4))).toEqual({ largestMillimetre: 0.9, smallestMillimetre: 0.9 });
  expect(gapsThatCount(readings, on(6))).toBeNull();
});

test("a bend that one reading shows stays a finding when another shows the case as it was built", () => {
  const bent = findingOfGaps(2, { smallestMillimetre: 0.5, largestMillimetre: 2.1 });
  expect(bent).toMatchObject({ fault: "mechanical-damage", safetyClass: "B" });
  expect(bent?.evidenceFor.join()).toContain("The gap fell from 2.0 mm when it was built to 0.5 mm");
  const both = findingOfGaps(2, { smallestMillimetre: 0.5, largestMillimetre: 6 });
  expect(both?.safetyClass).toBe("A1");
  expect(both?.evidenceFor.join()).toMatch(/grew from 2\.0 .* to 6\.0 mm.*fell from 2\.0 .* to 0\.5 mm/);
  expect(findingOfGaps(2, { smallestMillimetre: 1.8, largestMillimetre: 2.3 })).toBeNull();
  // Of two bends the deeper is told, of two growths the larger.
  expect(findingOfGaps(4, { smallestMillimetre: 1, largestMillimetre: 3 })?.evidenceFor.join()).toContain("to 1.0 mm");
  expect(findingOfGaps(1, { smallestMillimetre: 3, largestMillimetre: 6 })?.evidenceFor.join()).toContain("to 6.0 mm");
});

test("a gap that a named person has judged is no finding again while it is read as it was; one that grew on is", () => {
  const after = (foundGapMillimetre: number, builtGapMillimetre: number | null = 1) => {
    const judgedGapMillimetre = largestJudgedGap([{ gapMillimetre: 3, readAt: on(3) }], builtGapMillimetre, on(4));
    return openCaseFinding({ builtGapMillimetre, foundGapMillimetre, judgedGapMillimetre })?.safetyClass ?? null;
  };
  // Two readings agree no better than half a millimetre; less may be a straight-edge beside the bulge.
  expect([2, 3, 3.5].map((gap) => after(gap))).toEqual([null, null, null]);
  expect(after(3.6)).toBe("A1");
  // What was bent inwards is told of as before, and what stood out of nothing was judged by nobody.
  expect(after(1, 4)).toBe("B");
  expect(after(3.4, 2.7)).toBe("A1");
  expect(after(6, null)).toBeNull();
});

test("only a gap that had grown, read before the judgement, was judged", () => {
  const readings = [
    { gapMillimetre: 1.4, readAt: on(2) },
    { gapMillimetre: 3, readAt: on(3) },
    { gapMillimetre: 6, readAt: on(5) },
  ];
  expect(largestJudgedGap(readings, 1, on(4))).toBe(3);
  expect(largestJudgedGap(readings, 1, on(2))).toBeNull();
  expect(largestJudgedGap(readings, 1, null)).toBeNull();
  expect(largestJudgedGap(readings, null, on(4))).toBeNull();
});
