import fc from "fast-check";
import { expect, test } from "vitest";
import { medianOf, quantileOf } from "@/lib/readings/median";
import { orderStatistic } from "@/lib/readings/order-statistic";

const finite = fc.double({ noNaN: true, noDefaultInfinity: true });

test("selects what a sort would put at the place, and parts the rest around it", () => {
  fc.assert(
    fc.property(fc.array(finite, { minLength: 1, maxLength: 60 }), fc.nat(), (list, number) => {
      const place = number % list.length;
      const values = Float64Array.from(list);
      const selected = orderStatistic(values, list.length, place);
      expect(selected).toBe(Float64Array.from(list).sort()[place]);
      for (const [index, value] of values.entries()) {
        expect(index < place ? value <= selected : value >= selected).toBe(true);
      }
    }),
  );
});

test("many equal values and sorted input end as quickly", () => {
  expect(orderStatistic(new Float64Array(50_000).fill(3.7), 50_000, 25_000)).toBe(3.7);
  expect(
    orderStatistic(
      Float64Array.from({ length: 50_001 }, (_, i) => i),
      50_001,
      25_000,
    ),
  ).toBe(25_000);
});

test("a quantile interpolates as R's type 7 does, and leaves out what is not finite", () => {
  // quantile(c(1, 2, 3, 4, 10), c(.5, .25, .9)) in R 4.2.2 gives 3, 2, 7.6.
  const values = [10, Number.NaN, 3, 1, Number.POSITIVE_INFINITY, 4, 2];
  expect(medianOf(values)).toBe(3);
  expect(quantileOf(values, 0.25)).toBe(2);
  expect(quantileOf(values, 0.9)).toBeCloseTo(7.6, 12);
  expect(medianOf([1, 2, 3, 10])).toBe(2.5);
  expect(medianOf([Number.NaN])).toBeNaN();
});
