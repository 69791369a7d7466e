import { expect, test } from "vitest";
import { type KeptMeasurement, measuredQuantities } from "@/lib/diagnosis/measured-quantities";

function measured(name: string, group: number | null, value: number, conditions = "97 pairs"): KeptMeasurement {
  return { name, group, value, unit: "mOhm", uncertainty: 0.01, method: "slope", conditions };
}

test("the groups of one quantity are one line with the range they lie in", () => {
  const [one] = measuredQuantities([2, 1, 3].map((group) => measured("resistance-10s", group, 0.6 + group / 10)));
  expect(one).toMatchObject({
    title: "Resistance 10 s",
    said: "3 groups 0.7 to 0.9 mΩ",
    saidUncertainty: null,
    method: "slope",
    conditions: "97 pairs",
  });
  expect(one?.values.map(({ group }) => group)).toEqual([1, 2, 3]);
});

test("the whole pack stands before its groups and never in their range", () => {
  const [one] = measuredQuantities([measured("resistance-1s", 1, 0.7), measured("resistance-1s", null, 14)]);
  expect(one?.said).toBe("14 mΩ; 1 group 0.7 mΩ");
});

test("a single value carries its uncertainty, and says so where none was stated", () => {
  const [stated, open] = measuredQuantities([
    measured("sum-minus-pack", null, -2.5),
    { ...measured("cycle-count", null, 40), unit: "1", uncertainty: null },
  ]);
  expect(stated).toMatchObject({ said: "−2.5 mΩ", saidUncertainty: "± 0.01 mΩ" });
  expect(open).toMatchObject({ said: "40", saidUncertainty: "uncertainty not stated" });
});

test("conditions that differ from value to value are not said for all of them", () => {
  const [one] = measuredQuantities([
    measured("heating-rate", null, 1, "T1, line 469"),
    measured("heating-rate", null, 2, "T2, line 7"),
  ]);
  expect(one).toMatchObject({ said: "1 to 2 mΩ", conditions: null });
});
