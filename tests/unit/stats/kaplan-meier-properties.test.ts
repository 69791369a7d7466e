import fc from "fast-check";
import { expect, test } from "vitest";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { LifeTally } from "@/lib/stats/life-tally";
import { countLives, type Life } from "@/tests/support/lives";

const age = fc.oneof(fc.integer({ min: 0, max: 40 }), fc.double({ min: 0, max: 40, noNaN: true }));
const life = fc
  .tuple(age, age, fc.constantFrom<(0 | 1)[]>(0, 1))
  .filter(([a, b]) => a !== b)
  .map(([a, b, status]): Life => [Math.min(a, b), Math.max(a, b), status]);
const lives = fc.array(life, { minLength: 1, maxLength: 60 });

test("the order of the units does not matter", () => {
  fc.assert(
    fc.property(lives, fc.infiniteStream(fc.nat()), (units, keys) => {
      const shuffled = units.map((unit) => ({ unit, key: keys.next().value })).sort((a, b) => a.key - b.key);
      expect(kaplanMeier(countLives(shuffled.map(({ unit }) => unit)))).toEqual(kaplanMeier(countLives(units)));
    }),
  );
});

test("counting a life n times equals n equal lives", () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(life, fc.integer({ min: 1, max: 5 })), { maxLength: 20 }), (weighted) => {
      const tally = new LifeTally();
      for (const [[entryAge, exitAge, status], units] of weighted) tally.add(entryAge, exitAge, status === 1, units);
      const repeated = weighted.flatMap(([unit, units]) => Array.from({ length: units }, () => unit));
      expect(tally.counts()).toEqual(countLives(repeated));
    }),
  );
});

test("at every failure age the number at risk is that of a plain count of entry < age <= exit", () => {
  fc.assert(
    fc.property(lives, (units) => {
      for (const step of kaplanMeier(countLives(units)).steps) {
        expect(step.atRisk).toBe(units.filter(([entry, exit]) => entry < step.age && step.age <= exit).length);
        expect(step.failures).toBe(units.filter(([, exit, status]) => exit === step.age && status === 1).length);
      }
    }),
  );
});

test("survival falls from step to step and its limits bracket it between 0 and 1", () => {
  fc.assert(
    fc.property(lives, (units) => {
      let previous = 1;
      for (const { survival, lower, upper, standardError } of kaplanMeier(countLives(units)).steps) {
        expect(survival === 0 ? previous >= 0 : survival < previous).toBe(true);
        expect(0 <= lower && lower <= survival && survival <= upper && upper <= 1).toBe(true);
        expect(Number.isFinite(standardError)).toBe(true);
        previous = survival;
      }
    }),
  );
});

test("with nobody censored and nobody late, survival is the share still alive", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 1, max: 30 }), { minLength: 1, maxLength: 60 }), (ages) => {
      for (const step of kaplanMeier(countLives(ages.map((exit): Life => [0, exit, 1]))).steps) {
        expect(step.survival).toBeCloseTo(ages.filter((exit) => exit > step.age).length / ages.length, 12);
      }
    }),
  );
});

test("when running units leave after the last failure changes nothing", () => {
  fc.assert(
    fc.property(lives, fc.double({ min: 0.5, max: 1e6, noNaN: true }), (units, delay) => {
      const lastFailure = Math.max(0, ...units.filter(([, , status]) => status === 1).map(([, exit]) => exit));
      const later = units.map(
        ([entry, exit, status]): Life =>
          status === 0 && exit >= lastFailure ? [entry, exit + delay, 0] : [entry, exit, status],
      );
      expect(kaplanMeier(countLives(later)).steps).toEqual(kaplanMeier(countLives(units)).steps);
    }),
  );
});

test("a change of the unit of age changes ages only", () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(fc.integer({ min: 1, max: 60 }), fc.constantFrom<(0 | 1)[]>(0, 1))), (units) => {
      const days = kaplanMeier(countLives(units.map(([exit, status]): Life => [0, exit, status])));
      const hours = kaplanMeier(countLives(units.map(([exit, status]): Life => [0, exit * 24, status])));
      expect(hours.steps.map((s) => ({ ...s, age: s.age / 24 }))).toEqual(days.steps);
    }),
  );
});
