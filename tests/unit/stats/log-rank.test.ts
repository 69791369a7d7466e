import fc from "fast-check";
import { expect, test } from "vitest";
import { compareGroups } from "@/lib/reliability/group-comparison";
import { benjaminiHochberg } from "@/lib/stats/benjamini-hochberg";
import { logRank } from "@/lib/stats/log-rank";
import { countLives, type Life } from "@/tests/support/lives";

const life = fc
  .tuple(fc.integer({ min: 0, max: 20 }), fc.integer({ min: 1, max: 20 }), fc.constantFrom<(0 | 1)[]>(0, 1))
  .map(([entry, length, status]): Life => [entry, entry + length, status]);
const group = fc.array(life, { minLength: 1, maxLength: 25 });

test("equal groups do not differ", () => {
  const lives: Life[] = [
    [0, 3, 1],
    [0, 5, 0],
    [1, 7, 1],
  ];
  expect(logRank([countLives(lives), countLives(lives)])).toMatchObject({ kind: "test", chiSquare: 0, p: 1 });
});

test("observed and expected failures add up to the same total", () => {
  fc.assert(
    fc.property(fc.array(group, { minLength: 2, maxLength: 4 }), (groups) => {
      const result = logRank(groups.map(countLives));
      if (result.kind === "no-comparison") return;
      const failures = groups.flat().filter(([, , status]) => status === 1).length;
      expect(result.groups.reduce((sum, { observed }) => sum + observed, 0)).toBe(failures);
      expect(result.groups.reduce((sum, { expected }) => sum + expected, 0)).toBeCloseTo(failures, 9);
      expect(result.p).toBeGreaterThanOrEqual(0);
      expect(result.p).toBeLessThanOrEqual(1);
    }),
  );
});

test("the order of the groups does not change the test", () => {
  fc.assert(
    fc.property(group, group, group, (a, b, c) => {
      const forward = logRank([a, b, c].map(countLives));
      const backward = logRank([c, b, a].map(countLives));
      expect(forward.kind).toBe(backward.kind);
      if (forward.kind !== "test" || backward.kind !== "test") return;
      expect(backward.degreesOfFreedom).toBe(forward.degreesOfFreedom);
      expect(Math.abs(backward.chiSquare - forward.chiSquare)).toBeLessThanOrEqual(1e-7 * (1 + forward.chiSquare));
    }),
  );
});

test("groups never watched at a common failure age cannot be compared", () => {
  expect(logRank([countLives([[0, 5, 1]]), countLives([[5, 9, 1]])])).toEqual({ kind: "no-comparison" });
});

test("a group that shares no failure age with the others takes no degree of freedom", () => {
  const a: Life[] = [
    [0, 3, 1],
    [0, 9, 0],
    [0, 4, 1],
  ];
  const b: Life[] = [
    [0, 5, 1],
    [0, 9, 0],
    [0, 9, 0],
  ];
  const late: Life[] = [
    [20, 30, 1],
    [20, 31, 0],
  ];
  expect(logRank([a, late, b].map(countLives))).toMatchObject({ degreesOfFreedom: 1 });
});

test("a comparison needs two groups", () => {
  expect(() => logRank([countLives([[0, 1, 1]])])).toThrow(RangeError);
});

test("each group against the others is the two-group test of that group and all others in one", () => {
  fc.assert(
    fc.property(fc.array(group, { minLength: 2, maxLength: 4 }), (groups) => {
      const result = logRank(groups.map(countLives));
      if (result.kind !== "test") return;
      for (const [i, one] of groups.entries()) {
        const others = groups.filter((_, j) => j !== i).flat();
        const split = logRank([countLives(one), countLives(others)]);
        const p = result.groups[i]?.pAgainstOthers ?? null;
        if (split.kind === "no-comparison") expect(p).toBeNull();
        else expect(p).toBeCloseTo(split.p, 9);
      }
    }),
  );
});

test("adjusted p-values are never below the raw ones, never above 1 and keep their order", () => {
  fc.assert(
    fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 20 }), (raw) => {
      const adjusted = benjaminiHochberg(raw);
      for (const [i, p] of raw.entries()) {
        expect(adjusted[i]).toBeGreaterThanOrEqual(p * (1 - 1e-15));
        expect(adjusted[i]).toBeLessThanOrEqual(1);
        for (const [j, q] of raw.entries()) if (p < q) expect(adjusted[i]).toBeLessThanOrEqual(adjusted[j] ?? 0);
      }
    }),
  );
});

test("a p-value outside 0 to 1 is a fault", () => {
  expect(() => benjaminiHochberg([0.5, 1.5])).toThrow(RangeError);
  expect(() => benjaminiHochberg([Number.NaN])).toThrow(RangeError);
});

test("each group is tested against all others together and adjusted over the family", () => {
  const bad: Life[] = Array.from({ length: 20 }, (_, i): Life => [0, 10 + i, i < 15 ? 1 : 0]);
  const good = (): Life[] => Array.from({ length: 20 }, (_, i): Life => [0, 12 + i, i < 3 ? 1 : 0]);
  const result = compareGroups([
    { group: "good", counts: countLives(good()) },
    { group: "bad", counts: countLives(bad) },
    { group: "fine", counts: countLives(good()) },
  ]);
  if ("refused" in result) throw new Error(result.refused);
  const [first, worst] = result.groups;
  expect(worst).toMatchObject({ group: "bad", observed: 15 });
  expect(worst?.expected).toBeLessThan(10);
  expect(worst?.adjustedP).toBeCloseTo(3 * (worst?.p ?? 0), 12);
  expect(first?.p).toBeGreaterThan(worst?.p ?? 1);
});

test("a single group and groups without a common failure age are refused in a sentence", () => {
  const one = { group: "A", counts: countLives([[0, 5, 1]]) };
  expect(compareGroups([one])).toEqual({ refused: "A comparison needs two groups or more." });
  expect(compareGroups([one, { group: "B", counts: countLives([[0, 5, 0]]) }])).not.toHaveProperty("refused");
  expect(compareGroups([one, { group: "B", counts: countLives([[5, 9, 1]]) }])).toHaveProperty("refused");
});
