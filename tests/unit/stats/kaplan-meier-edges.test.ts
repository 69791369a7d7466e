import { expect, test } from "vitest";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { LifeTally } from "@/lib/stats/life-tally";
import { survivalAtAge } from "@/lib/stats/survival-at-age";
import { countLives, type Life } from "@/tests/support/lives";

function equalLives(n: number, age: number, status: 0 | 1): Life[] {
  return Array.from({ length: n }, (): Life => [0, age, status]);
}

/** Clopper & Pearson, Biometrika 26 (1934) 404-413: two-sided 95 % limit for 0 of n, 1 - 0.025^(1/n). */
function clopperPearsonUpper(n: number): number {
  return 1 - 0.025 ** (1 / n);
}

test("no units give an empty curve and nobody at risk", () => {
  const curve = kaplanMeier([]);
  expect(curve).toMatchObject({ units: 0, failures: 0, lastAge: 0, steps: [], exhaustedAtAge: null, unobserved: [] });
  expect(survivalAtAge(curve, 30)).toEqual({ kind: "nobody-at-risk", age: 30, failures: 0 });
});

test("zero failures give no steps, survival 1 and a lower limit below 1", () => {
  const curve = kaplanMeier(countLives(equalLives(50, 400, 0)));
  expect(curve.steps).toEqual([]);
  const estimate = survivalAtAge(curve, 365);
  expect(estimate).toMatchObject({ age: 365, survival: 1, standardError: 0, upper: 1, atRisk: 50, failures: 0 });
  expect(estimate.kind === "estimate" && estimate.lower).toBeCloseTo(1 - clopperPearsonUpper(50), 12);
});

test("without failures the lower limit rests on the fewest watched on the way, not on the many who came later", () => {
  const curve = kaplanMeier(countLives([...equalLives(4, 400, 0), [100, 400, 0], [100, 400, 0]]));
  const estimate = survivalAtAge(curve, 365);
  expect(estimate).toMatchObject({ atRisk: 6, survival: 1 });
  expect(estimate.kind === "estimate" && estimate.lower).toBeCloseTo(1 - clopperPearsonUpper(4), 12);
});

test("one failure among many has limits on both sides", () => {
  const curve = kaplanMeier(countLives([...equalLives(99, 400, 0), [0, 200, 1]]));
  expect(curve.steps).toHaveLength(1);
  const [step] = curve.steps;
  expect(step?.survival).toBeCloseTo(0.99, 12);
  expect(step?.lower).toBeGreaterThan(0.9);
  expect(step?.lower).toBeLessThan(0.99);
  expect(step?.upper).toBeGreaterThan(0.99);
  expect(step?.upper).toBeLessThan(1);
});

test("when the last unit fails survival is 0, its lower limit 0 and its upper limit that of the step before", () => {
  const { steps, exhaustedAtAge } = kaplanMeier(
    countLives([
      [0, 1, 1],
      [0, 2, 1],
      [0, 3, 1],
    ]),
  );
  expect(steps[2]).toMatchObject({ survival: 0, standardError: 0, lower: 0, upper: steps[1]?.upper });
  expect(exhaustedAtAge).toBeNull();
});

test("when all units fail at once the upper limit is Clopper and Pearson's for n of n", () => {
  const { steps } = kaplanMeier(countLives(equalLives(10, 5, 1)));
  expect(steps).toHaveLength(1);
  expect(steps[0]).toMatchObject({ survival: 0, standardError: 0, lower: 0, upper: clopperPearsonUpper(10) });
});

test("one unit that failed and one unit still running both have defined limits", () => {
  const [failed] = kaplanMeier(countLives([[0, 10, 1]])).steps;
  expect(failed).toMatchObject({ survival: 0, lower: 0 });
  expect(failed?.upper).toBeCloseTo(0.975, 12);
  const running = survivalAtAge(kaplanMeier(countLives([[0, 10, 0]])), 10);
  expect(running).toMatchObject({ survival: 1, upper: 1 });
  expect(running.kind === "estimate" && running.lower).toBeCloseTo(0.025, 12);
});

test("failures at one age count against one common number at risk, running units of that age included", () => {
  const { steps } = kaplanMeier(
    countLives([
      [0, 5, 1],
      [0, 5, 1],
      [0, 5, 0],
      [0, 9, 0],
    ]),
  );
  expect(steps).toHaveLength(1);
  expect(steps[0]).toMatchObject({ age: 5, atRisk: 4, failures: 2, survival: 0.5 });
});

test("a life that ends at or before its entry is refused", () => {
  const tally = new LifeTally();
  expect(() => tally.add(10, 10, true)).toThrow(RangeError);
  expect(() => tally.add(10, 9, false)).toThrow("exit-not-after-entry");
  expect(() => tally.add(0, 0, false)).toThrow("exit-not-after-entry");
});

test("negative, endless and unreadable ages are refused", () => {
  const tally = new LifeTally();
  expect(() => tally.add(-1, 9, false)).toThrow("negative-age");
  expect(() => tally.add(0, -9, false)).toThrow("negative-age");
  expect(() => tally.add(0, Number.NaN, false)).toThrow("not-a-number");
  expect(() => tally.add(0, Number.POSITIVE_INFINITY, false)).toThrow("not-a-number");
});

test("units that are no positive whole number are refused", () => {
  const tally = new LifeTally();
  for (const units of [0, -1, 1.5, Number.NaN]) expect(() => tally.add(0, 1, true, units)).toThrow(RangeError);
});

test("an early risk set used up by delayed entry is named, although survival stays 0", () => {
  // Hyde's retirement-home data show the effect (Channing House: Klein & Moeschberger, Survival Analysis (2003), 4.6):
  // the men's curve falls to 0 before 840 months because very few were watched so young.
  const lives: Life[] = [[0, 3, 1], ...Array.from({ length: 40 }, (): Life => [10, 50, 0]), [10, 20, 1]];
  const curve = kaplanMeier(countLives(lives));
  expect(curve.exhaustedAtAge).toBe(3);
  expect(curve.unobserved).toEqual([{ fromAge: 3, toAge: 10 }]);
  expect(curve.steps.at(-1)).toMatchObject({ age: 20, atRisk: 41, survival: 0, lower: 0 });
  for (const step of curve.steps) for (const value of Object.values(step)) expect(Number.isFinite(value)).toBe(true);
});

test("ages on which nobody was watched are listed, the first ones included", () => {
  const { unobserved } = kaplanMeier(
    countLives([
      [5, 8, 0],
      [12, 20, 1],
    ]),
  );
  expect(unobserved).toEqual([
    { fromAge: 0, toAge: 5 },
    { fromAge: 8, toAge: 12 },
  ]);
});

test("beyond the last exit nobody is at risk and nothing is estimated", () => {
  const curve = kaplanMeier(countLives([...equalLives(30, 100, 0), [0, 40, 1]]));
  expect(survivalAtAge(curve, 100).kind).toBe("estimate");
  expect(survivalAtAge(curve, 101)).toEqual({ kind: "nobody-at-risk", age: 101, failures: 1 });
});

test("a confidence outside 0 to 1 and a negative age are faults of the caller", () => {
  expect(() => kaplanMeier([], 1)).toThrow(RangeError);
  expect(() => kaplanMeier([], 0)).toThrow(RangeError);
  expect(() => survivalAtAge(kaplanMeier([]), -1)).toThrow(RangeError);
});
