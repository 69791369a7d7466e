import { expect, test } from "vitest";
import { packCapacities, resistanceBeside, sagOfGroupsV } from "@/lib/diagnosis/built-beside-found";
import type { Measurement } from "@/lib/diagnosis/finding";

function measured(name: string, group: number | null, value: number, unit = "mOhm"): Measurement {
  return { name, group, value, unit, uncertainty: 0.01, method: "load steps", conditions: "10 s" };
}

const built = [1, 1.1, 0.9, 1];

test("a group that rose more than the middle one stands out, whatever the height of all", () => {
  const found = built.map((value, index) => measured("resistance-10s", index + 1, value * (index === 2 ? 2.4 : 1.5)));
  const { groups } = resistanceBeside(built, found);
  expect(groups.map(({ standsOut }) => standsOut)).toEqual([false, false, true, false]);
  expect(groups[2]?.growth).toBeCloseTo(2.4 / 1.5, 12);
});

test("a pack that rose evenly has no group that stands out", () => {
  const found = built.map((value, index) => measured("resistance-10s", index + 1, value * 3));
  expect(resistanceBeside(built, found).groups.some(({ standsOut }) => standsOut)).toBe(false);
});

test("kinds of resistance are never mixed: the one that most groups have is taken", () => {
  const { groups, found } = resistanceBeside(built, [
    measured("resistance-1s", 1, 9),
    measured("resistance-10s", 1, 1),
    measured("resistance-10s", 2, 1.1),
  ]);
  expect(found?.name).toBe("resistance-10s");
  expect(groups.map(({ foundMilliohm }) => foundMilliohm)).toEqual([1, 1.1, null, null]);
  expect(groups[3]?.growth).toBeNull();
});

test("ohms become milliohms, and an unknown unit is left out", () => {
  expect(resistanceBeside([1], [measured("resistance-10s", 1, 0.0012, "Ohm")]).groups[0]?.foundMilliohm).toBeCloseTo(
    1.2,
  );
  expect(resistanceBeside([1], [measured("resistance-10s", 1, 1, "V")]).groups[0]?.foundMilliohm).toBeNull();
});

test("without readings the built values stand alone", () => {
  const { groups, found } = resistanceBeside(built, []);
  expect(found).toBeNull();
  expect(groups.map(({ builtMilliohm }) => builtMilliohm)).toEqual(built);
});

test("the sag of the groups is their resistance together times the current, by Ohm's law", () => {
  const found = built.map((_, index) => measured("resistance-10s", index + 1, 1.25));
  // Four groups of 1.25 milliohm in series: 5 milliohm; at 100 A half a volt.
  expect(sagOfGroupsV(resistanceBeside(built, found).groups, 100)).toBeCloseTo(0.5, 12);
  expect(sagOfGroupsV(resistanceBeside(built, found.slice(1)).groups, 100)).toBeNull();
  expect(sagOfGroupsV([], 100)).toBeNull();
});

test("only capacities of the whole pack in Ah stand beside the built one", () => {
  const rows = [
    measured("capacity", null, 31, "Ah"),
    measured("group-capacity", 3, 29, "Ah"),
    measured("capacity-share", null, 0.9, "1"),
  ];
  expect(packCapacities(rows).map(({ value }) => value)).toEqual([31]);
});
