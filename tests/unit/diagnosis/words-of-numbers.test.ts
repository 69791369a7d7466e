import { expect, test } from "vitest";
import { sayConfidence, sayConfidenceOf } from "@/lib/diagnosis/confidence-words";
import { sayKnownTo, sayQuantity, sayUncertain } from "@/lib/diagnosis/quantity-words";

test.each([
  [1, "Very likely, 100 in 100"],
  [0.85, "Very likely, 85 in 100"],
  [0.849, "Likely, 85 in 100"],
  [0.5, "Possible, 50 in 100"],
  [0.2, "Less likely, 20 in 100"],
  [0, "Unlikely, 0 in 100"],
])("a confidence of %d is %s", (confidence, words) => {
  expect(sayConfidence(confidence)).toBe(words);
});

test("a confidence outside 0 to 1 is refused", () => {
  for (const confidence of [-0.1, 1.1, Number.NaN]) expect(() => sayConfidence(confidence)).toThrow(RangeError);
});

test.each([
  [0.384712, "mOhm", "0.3847 mΩ"],
  [-12, "A", "−12 A"],
  [31.25, "degC", "31.25 °C"],
  [3, "1", "3"],
  [-0, "V", "0 V"],
  [2, "furlong", "2 furlong"],
])("%d in %s is written %s", (value, unit, words) => {
  expect(sayQuantity(value, unit)).toBe(words);
});

// JCGM 100:2008, 7.2.6 and H.2.4: an uncertainty to two digits at most, its value to the same place (from memory: verify).
test.each([
  [13.0604, 0.3964, "13.06 mΩ", "0.4 mΩ"],
  [-41.4, 0.05774, "−41.4 mΩ", "0.058 mΩ"],
  [1.00812, 0.0996, "1.01 mΩ", "0.1 mΩ"],
  [1234.5, 31.2, "1235 mΩ", "31 mΩ"],
  [-0.004, 0.31, "0 mΩ", "0.31 mΩ"],
  [40.25, 0, "40.25 mΩ", "0 mΩ"],
])("%d known to %d is %s ± %s", (value, uncertainty, said, doubt) => {
  expect(sayKnownTo(value, uncertainty, "mOhm")).toBe(said);
  expect(sayUncertain(uncertainty, "mOhm")).toBe(doubt);
});

test("what is no finite value is refused", () => {
  expect(() => sayQuantity(Number.NaN, "V")).toThrow(RangeError);
});

test("no fault found is given no number: what was not shown may still be there", () => {
  expect(sayConfidenceOf({ fault: "no-fault-found", confidence: 0.97 })).not.toMatch(/\d/);
  expect(sayConfidenceOf({ fault: "no-fault-found", confidence: 0.97 })).toMatch(/could have shown/);
  expect(sayConfidenceOf({ fault: "weak-cell", confidence: 0.72 })).toBe("Likely, 72 in 100");
});
