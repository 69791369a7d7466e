import { expect, test } from "vitest";
import { countLifeColumns } from "@/lib/stats/life-columns";
import { LifeTally } from "@/lib/stats/life-tally";
import { seededRandom } from "@/tests/support/seeded-random";

function randomColumns(seed: number, scale: number, hasEntries: boolean) {
  const uniform = seededRandom(seed);
  const [group, entry, exit, failed]: [number[], number[], number[], number[]] = [[], [], [], []];
  for (let unit = 0; unit < 500; unit++) {
    const from = hasEntries && uniform() < 0.3 ? Math.floor(20 * uniform()) : 0;
    group.push(Math.floor(3 * uniform()));
    entry.push(from * scale);
    exit.push((from + 1 + Math.floor(50 * uniform())) * scale);
    failed.push(uniform() < 0.3 ? 1 : 0);
  }
  return { group, entry: hasEntries ? entry : null, exit, failed };
}

test("columns are counted as the tally counts rows: whole ages, broken ages, huge ages, late entries", () => {
  for (const [scale, hasEntries] of [
    [1, true],
    [1, false],
    [0.5, true],
    [1e7, true],
  ] as const) {
    const columns = randomColumns(4, scale, hasEntries);
    const tallies = [0, 1, 2].map(() => new LifeTally());
    for (const [i, exit] of columns.exit.entries())
      tallies[columns.group[i] ?? 0]?.add(columns.entry?.[i] ?? 0, exit, columns.failed[i] === 1);
    expect(countLifeColumns(columns, 3)).toEqual(tallies.map((tally) => tally.counts()));
  }
});

test("a group without units has no counts", () => {
  expect(countLifeColumns({ group: [1], entry: null, exit: [5], failed: [1] }, 2)[0]).toEqual([]);
});

test("lives that cannot be, unknown groups and columns of unequal length are refused", () => {
  const column = { group: [0], entry: null, exit: [5], failed: [1] };
  expect(() => countLifeColumns({ ...column, exit: [-5] }, 1)).toThrow(RangeError);
  expect(() => countLifeColumns({ ...column, entry: [5] }, 1)).toThrow(RangeError);
  expect(() => countLifeColumns({ ...column, exit: [Number.NaN] }, 1)).toThrow(RangeError);
  expect(() => countLifeColumns(column, 0)).toThrow(RangeError);
  expect(() => countLifeColumns({ ...column, failed: [] }, 1)).toThrow(RangeError);
});
