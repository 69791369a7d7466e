import fc from "fast-check";
import { expect, test } from "vitest";
import { SlidingLowest } from "@/lib/readings/measure/sliding-lowest";

const readings = fc.oneof(fc.double({ min: -50, max: 150, noNaN: true }), fc.constantFrom(Number.NaN, 20, 20.1));

test("the lowest value of a window that only moves forward is the lowest of its values looked at one by one", () => {
  fc.assert(
    fc.property(fc.array(readings, { maxLength: 60 }), fc.array(fc.nat(5), { maxLength: 60 }), (values, steps) => {
      const column = Float64Array.from(values);
      const lowest = new SlidingLowest(column);
      let from = 0;
      for (let row = 0; row < column.length; row += 1) {
        lowest.take(row);
        from = Math.min(row, from + (steps[row] ?? 1));
        const finite = Array.from(column.subarray(from, row + 1)).filter(Number.isFinite);
        expect(lowest.lowestFrom(from)).toBe(Math.min(Number.POSITIVE_INFINITY, ...finite));
      }
    }),
    { seed: 20_261_129 },
  );
});

test("a window without a finite value has no lowest", () => {
  const lowest = new SlidingLowest(Float64Array.from([Number.NaN, Number.POSITIVE_INFINITY]));
  lowest.take(0);
  lowest.take(1);
  expect(lowest.lowestFrom(0)).toBe(Number.POSITIVE_INFINITY);
});
