import { expect, test } from "vitest";
import { grouped, inHundred, inHundredBetween } from "@/lib/reliability/plain-share";

test("a share is said with one decimal below ten in a hundred and with none above", () => {
  expect([0, 0.0123, 0.02, 0.0994, 0.0996, 0.136, 1].map(inHundred)).toEqual([
    "0 in 100",
    "1.2 in 100",
    "2 in 100",
    "9.9 in 100",
    "10 in 100",
    "14 in 100",
    "100 in 100",
  ]);
});

test("a share that would round to nothing is not called nothing", () => {
  expect(inHundred(0.0004)).toBe("fewer than 0.1 in 100");
});

test("a pair of limits is said once with its unit", () => {
  expect(inHundredBetween(0.0108, 0.0525)).toBe("between 1.1 and 5.3 in 100");
});

test("what is no share is a fault of the caller", () => {
  for (const share of [-0.1, 1.1, Number.NaN]) expect(() => inHundred(share)).toThrow(RangeError);
});

test("large counts are grouped in threes", () => {
  expect([999, 1000, 1234567].map(grouped)).toEqual(["999", "1,000", "1,234,567"]);
});
