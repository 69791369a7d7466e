import { expect, test } from "vitest";
import { caseFinding, gapThatCounts } from "@/lib/diagnosis/case-flatness";

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

test("the largest reading counts until a named person judged the pack", () => {
  const readings = [
    { gapMillimetre: 0.9, readAt: on(5) },
    { gapMillimetre: 6, readAt: on(3) },
  ];
  expect(gapThatCounts(readings, null)).toBe(6);
  expect(gapThatCounts(readings, on(4))).toBe(0.9);
  expect(gapThatCounts(readings, on(6))).toBeNull();
});
