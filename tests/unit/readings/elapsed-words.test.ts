import { expect, test } from "vitest";
import { sayElapsed } from "@/lib/readings/elapsed-words";

test.each([
  [0, "0 s"],
  [45.4, "45 s"],
  [720, "12 min"],
  [750, "12 min 30 s"],
  [11_400, "3 h 10 min"],
  [7199, "2 h"],
  [367_200, "4 d 6 h"],
  [86_400, "1 d"],
])("%d s is said as %s", (seconds, words) => {
  expect(sayElapsed(seconds)).toBe(words);
});

test("what is no span of time is refused", () => {
  for (const seconds of [-1, Number.NaN, Number.POSITIVE_INFINITY])
    expect(() => sayElapsed(seconds)).toThrow(RangeError);
});
