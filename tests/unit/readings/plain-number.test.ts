import fc from "fast-check";
import { expect, test } from "vitest";
import { plainNumber } from "@/lib/readings/plain-number";

test.each([
  [3850, "3,850"],
  [0, "0"],
  [999, "999"],
  [-20_000, "−20,000"],
  [1_234_567, "1,234,567"],
  [59.25, "59.3"],
  [3.7, "3.7"],
  [0.0037, "0.0037"],
  [255, "255"],
])("%d is written %s", (value, text) => expect(plainNumber(value)).toBe(text));
test("no number of the size of readings is written with an exponent", () => {
  fc.assert(
    fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), (value) => {
      expect(plainNumber(value)).toMatch(/^−?\d{1,3}(,\d{3})*(\.\d+)?$/);
    }),
  );
});
