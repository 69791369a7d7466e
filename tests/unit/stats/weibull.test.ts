import fc from "fast-check";
import { expect, test } from "vitest";
import { findRoot } from "@/lib/stats/find-root";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { weibullLimits } from "@/lib/stats/weibull-limits";
import { countLives, type Life } from "@/tests/support/lives";
import { expectWithinRelative } from "@/tests/support/within-relative";

function fit(lives: Life[]) {
  return fitWeibull(countLives(lives));
}

const varied = fc.array(fc.tuple(fc.integer({ min: 1, max: 300 }), fc.constantFrom<(0 | 1)[]>(0, 1)), {
  minLength: 3,
  maxLength: 40,
});

test("no units and no failures are refused", () => {
  expect(fit([])).toEqual({ kind: "refused", reason: "no-failures" });
  expect(fit([[0, 5, 0]])).toEqual({ kind: "refused", reason: "no-failures" });
});

test("a single failure is refused", () => {
  expect(
    fit([
      [0, 5, 1],
      [0, 9, 0],
      [0, 9, 0],
    ]),
  ).toEqual({ kind: "refused", reason: "one-failure" });
});

test("failures at the largest age only are refused, since the shape would grow without end", () => {
  const refused = { kind: "refused", reason: "failures-only-at-largest-age" };
  expect(
    fit([
      [0, 9, 1],
      [0, 9, 1],
    ]),
  ).toEqual(refused);
  expect(
    fit([
      [0, 9, 1],
      [0, 9, 1],
      [0, 5, 0],
    ]),
  ).toEqual(refused);
});

test("late entries that leave the likelihood rising towards shape 0 are refused", () => {
  // Everyone is first seen at age 100 and fails almost at once: a hazard steeper than any Weibull allows.
  const lives: Life[] = [
    [100, 101, 1],
    [100, 101, 1],
    [100, 101, 1],
    [100, 102, 1],
    [100, 900, 0],
    [100, 900, 0],
  ];
  expect(fit(lives)).toEqual({ kind: "refused", reason: "early-ages-unobserved" });
});

test("two failures and some running units give a fit with finite limits around it", () => {
  const result = fit([[0, 50, 1], [0, 90, 1], ...Array.from({ length: 30 }, (): Life => [0, 100, 0])]);
  if (result.kind !== "fit") throw new Error("a fit is expected");
  const limits = weibullLimits(result);
  if (limits === null) throw new Error("limits are expected");
  expect(limits.shape.lower).toBeLessThan(result.shape);
  expect(limits.shape.upper).toBeGreaterThan(result.shape);
  expect(limits.scale.lower).toBeLessThan(result.scale);
  expect(limits.scale.upper).toBeGreaterThan(result.scale);
});

test("exact Weibull quantiles give back the shape and scale they were made with", () => {
  const [shape, scale, n] = [1.7, 900, 4000];
  const lives = Array.from(
    { length: n },
    (_, i): Life => [0, scale * (-Math.log(1 - (i + 0.5) / n)) ** (1 / shape), 1],
  );
  const result = fit(lives);
  expectWithinRelative(result.kind === "fit" ? result.shape : 0, shape, 0.002, "shape");
  expectWithinRelative(result.kind === "fit" ? result.scale : 0, scale, 0.002, "scale");
});

test("another unit of age changes the scale by its factor and leaves the shape", () => {
  fc.assert(
    fc.property(varied, fc.constantFrom(24, 1 / 30.4375, 1e6), (units, factor) => {
      const days = fit(units.map(([age, status]): Life => [0, age, status]));
      const others = fit(units.map(([age, status]): Life => [0, age * factor, status]));
      expect(others.kind).toBe(days.kind);
      if (days.kind !== "fit" || others.kind !== "fit") return;
      expectWithinRelative(others.shape, days.shape, 1e-9, "shape");
      expectWithinRelative(others.scale, days.scale * factor, 1e-9, "scale");
    }),
  );
});

test("the fit is likelier than its neighbours, with late entries too", () => {
  fc.assert(
    fc.property(
      varied,
      fc.array(fc.integer({ min: 0, max: 200 }), { minLength: 40, maxLength: 40 }),
      (units, entries) => {
        const lives = units.map(
          ([age, status], i): Life => [i % 3 === 0 ? 0 : (entries[i] ?? 0), (entries[i] ?? 0) + age, status],
        );
        const result = fit(lives);
        if (result.kind !== "fit") return;
        for (const factor of [0.5, 0.9, 0.99, 1.01, 1.1, 2]) {
          const there = result.likelihood.profileLogLikelihood(result.shape * factor);
          expect(there).toBeLessThanOrEqual(result.logLikelihood + 1e-9);
        }
      },
    ),
  );
});

test("at the limits the likelihood has dropped by half the chi-square quantile", () => {
  fc.assert(
    fc.property(varied, (units) => {
      const result = fit(units.map(([age, status]): Life => [0, age, status]));
      const limits = result.kind === "fit" ? weibullLimits(result) : null;
      if (result.kind !== "fit" || limits === null) return;
      for (const shape of [limits.shape.lower, limits.shape.upper]) {
        const drop = result.logLikelihood - result.likelihood.profileLogLikelihood(shape);
        expect(drop).toBeCloseTo(1.959963984540054 ** 2 / 2, 8);
      }
      expect(limits.scale.lower).toBeLessThanOrEqual(result.scale * (1 + 1e-9));
      expect(limits.scale.upper).toBeGreaterThanOrEqual(result.scale * (1 - 1e-9));
    }),
  );
});

test("a root is found to the last digits and a missing change of sign is a fault", () => {
  expectWithinRelative(
    findRoot((x) => x * x - 2, 0, 5),
    Math.SQRT2,
    1e-15,
  );
  expectWithinRelative(
    findRoot((x) => Math.exp(-x) - 1e-12, 0, 1000),
    12 * Math.LN10,
    1e-14,
  );
  expect(() => findRoot((x) => x * x + 1, -1, 1)).toThrow(RangeError);
});
