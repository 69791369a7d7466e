import { expect, test } from "vitest";
import {
  adjustFamily,
  CALLED_BELOW,
  cellsOfOthers,
  compareAtOnce,
  compareStrata,
  withRatios,
  worseGroups,
} from "@/lib/reliability/compare-strata";
import { compareGroups } from "@/lib/reliability/group-comparison";
import { countCells, type LifeCell, type LifeTable } from "@/lib/reliability/life-cell";
import { seededRandom } from "@/tests/support/seeded-random";

function cell(group: string, exitDays: number, status: LifeCell["status"], packs: number, stratum = "M"): LifeCell {
  const life = { entryDays: 0, slackDays: 0, dispatched: true, detail: null };
  return { line: "confirmed", group, stratum, exitDays, status, packs, ...life };
}

function tableOf(...cells: LifeCell[]): LifeTable {
  return { cells, excluded: [] };
}

/** Freireich et al. 1963, leukaemia remission in weeks, as in Gehan (1965): 21 treated, 21 not. */
const treated = [
  [6, 3, 1],
  [7, 1, 0],
  [10, 1, 1],
  [13, 1, 0],
  [16, 1, 0],
  [22, 1, 0],
  [23, 1, 0],
  [9, 0, 1],
  [11, 0, 1],
  [17, 0, 1],
  [19, 0, 1],
  [20, 0, 1],
  [25, 0, 1],
  [32, 0, 2],
  [34, 0, 1],
  [35, 0, 1],
] as const;
const control = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23];
const gehan = tableOf(
  ...treated.flatMap(([age, failed, running]) => [
    ...(failed > 0 ? [cell("6-MP", age, "failed", failed)] : []),
    ...(running > 0 ? [cell("6-MP", age, "running", running)] : []),
  ]),
  ...control.map((age) => cell("control", age, "failed", 1)),
);

test("test and ratio are those published for Gehan's two arms", () => {
  const { groups } = withRatios(compareStrata(gehan), gehan);
  const global = compareAtOnce(gehan);
  // Chi-square 16.79294 on 1 degree of freedom and Cox ratio 1/4.816874 (Efron): R 4.2.2, survival 3.5-3, data MASS::gehan.
  expect(global?.chiSquare).toBeCloseTo(16.79294099, 7);
  expect(groups[0]).toMatchObject({ group: "6-MP", observed: 9 });
  expect(groups[0]?.expected).toBeCloseTo(19.2505009, 6);
  expect(groups[1]?.ratio?.ratio).toBeCloseTo(4.816874, 5);
});

test("with one stratum the comparison is the unstratified one", () => {
  const { groups } = compareStrata(gehan);
  const plain = compareGroups(
    ["6-MP", "control"].map((group) => ({
      group,
      counts: countCells(
        gehan.cells.filter((c) => c.group === group),
        "confirmed",
      ),
    })),
  );
  if ("refused" in plain) throw new Error(plain.refused);
  expect(groups.map(({ p }) => p)).toEqual(plain.groups.map(({ p }) => p));
});

test("a group that lives among harder conditions is not blamed for them", () => {
  // In the hot country both fail five times as often; B is sold there mostly.
  const many = (group: string, stratum: string, failed: number, sound: number) => [
    ...Array.from({ length: failed }, (_, i) => cell(group, 50 + 7 * i, "failed", 1, stratum)),
    cell(group, 500, "running", sound, stratum),
  ];
  const stratified = tableOf(
    ...many("A", "cool", 9, 891),
    ...many("B", "cool", 1, 99),
    ...many("A", "hot", 5, 95),
    ...many("B", "hot", 45, 855),
  );
  const pooled = { ...stratified, cells: stratified.cells.map((one) => ({ ...one, stratum: "all" })) };
  expect(worseGroups(adjustFamily(compareStrata(pooled))).map(({ group }) => group)).toEqual(["B"]);
  expect(worseGroups(adjustFamily(compareStrata(stratified)))).toEqual([]);
});

test("groups that never share a stratum are not held against each other", () => {
  const apart = tableOf(
    cell("A", 10, "failed", 5, "M"),
    cell("B", 10, "failed", 1, "N"),
    cell("B", 90, "running", 50, "N"),
  );
  const { groups } = withRatios(compareStrata(apart), apart);
  expect(compareAtOnce(apart)).toBeNull();
  expect(groups.map(({ p, ratio }) => [p, ratio])).toEqual([
    [null, null],
    [null, null],
  ]);
});

test.each([
  ["no packs", tableOf()],
  ["one pack", tableOf(cell("A", 10, "failed", 1))],
  ["one group", tableOf(cell("A", 10, "failed", 1), cell("A", 90, "running", 9))],
  ["all failed", tableOf(cell("A", 10, "failed", 9), cell("B", 10, "failed", 9))],
  [
    "no failure in one group",
    tableOf(cell("A", 10, "failed", 3), cell("A", 99, "running", 9), cell("B", 99, "running", 9)),
  ],
  ["no failure at all", tableOf(cell("A", 99, "running", 9), cell("B", 99, "running", 9))],
  ["all at one age", tableOf(cell("A", 10, "failed", 3), cell("A", 10, "running", 9), cell("B", 10, "failed", 9))],
])("%s gives a defined result without a broken number", (_, table) => {
  const comparison = withRatios(adjustFamily(compareStrata(table)), table);
  expect(JSON.stringify([comparison, compareAtOnce(table)])).not.toMatch(/NaN|Infinity/);
  for (const { observed, expected, p, ratio } of comparison.groups) {
    expect(Number.isFinite(observed) && Number.isFinite(expected)).toBe(true);
    if (p !== null) expect(p >= 0 && p <= 1).toBe(true);
    if (ratio !== null) expect([ratio.lower, ratio.ratio ?? 1, ratio.upper ?? 1].every(Number.isFinite)).toBe(true);
  }
});

test("with more groups tested the same difference counts for less", () => {
  const more = Array.from({ length: 9 }, (_, i) => [
    cell(`G${i}`, 10 + i, "failed", 1, "N"),
    cell(`G${i}`, 99, "running", 9, "N"),
  ]);
  const alone = adjustFamily(compareStrata(gehan));
  const among = adjustFamily(compareStrata(tableOf(...gehan.cells, ...more.flat())));
  expect(among.groups[0]?.p).toBeCloseTo(alone.groups[0]?.p ?? 0, 12);
  expect(among.groups[0]?.adjustedP ?? 0).toBeGreaterThan(alone.groups[0]?.adjustedP ?? 1);
});

test("the others of a group are the packs of its strata that are not its own", () => {
  const table = tableOf(cell("A", 10, "failed", 1), cell("B", 20, "failed", 2), cell("C", 20, "failed", 4, "N"));
  expect(countCells(cellsOfOthers(table, { group: "A", strata: ["M"] }), "confirmed")).toEqual([
    { age: 0, entered: 2, failed: 0, censored: 0 },
    { age: 20, entered: 0, failed: 2, censored: 0 },
  ]);
});

test("of pages of 200 small lots that all fail alike, hardly any calls a lot worse", () => {
  const random = seededRandom(12);
  const pages = 40;
  let calling = 0;
  for (let page = 0; page < pages; page++) {
    // 20 packs a lot and 0.05 failures to be expected of each: the normal approximation takes any single failure for a sign.
    const failures = Array.from({ length: 10 }, () =>
      cell(`L${Math.floor(200 * random())}`, 1 + Math.floor(399 * random()), "failed", 1),
    );
    const failedOf = (group: string) => failures.filter((one) => one.group === group).length;
    const lots = Array.from({ length: 200 }, (_, i) => cell(`L${i}`, 400, "running", 20 - failedOf(`L${i}`)));
    if (worseGroups(adjustFamily(compareStrata(tableOf(...lots, ...failures)))).length > 0) calling += 1;
  }
  // At the 5 % level at most two of 40; the test is exact, so fewer.
  expect(calling / pages).toBeLessThan(CALLED_BELOW);
});

test("a single failure where a twentieth was to be expected is no sure sign", () => {
  const lot = (name: string, packs: number, failed: readonly number[]) => [
    ...failed.map((age) => cell(name, age, "failed", 1)),
    cell(name, 400, "running", packs - failed.length),
  ];
  const others = lot(
    "rest",
    9980,
    Array.from({ length: 24 }, (_, i) => 10 + 15 * i),
  );
  const [one] = compareStrata(tableOf(...lot("A", 20, [31]), ...others)).groups;
  expect(one?.expected).toBeCloseTo(0.05, 2);
  expect(one?.p ?? 0).toBeGreaterThan(0.04);
});

test("a bad lot that was built into pairs is compared as one, and its packs are not among its own others", () => {
  // Lot A only ever together with one of eight others, which are built by themselves too: 3 of 40 packs of each pair fail.
  const mixed: LifeTable = {
    hasPairs: true,
    excluded: [],
    cells: Array.from({ length: 8 }, (_, i) => [
      ...[20, 140, 260].map((age) => cell(`A + L${i}`, age + 9 * i, "failed", 1)),
      cell(`A + L${i}`, 400, "running", 37),
      cell(`L${i}`, 60 + 30 * i, "failed", 1),
      cell(`L${i}`, 400, "running", 119),
    ]).flat(),
  };
  const { groups } = withRatios(adjustFamily(compareStrata(mixed)), mixed);
  expect(groups.map(({ group }) => group).sort()).toEqual(["A", ...Array.from({ length: 8 }, (_, i) => `L${i}`)]);
  const of = (name: string) => groups.find(({ group }) => group === name);
  // The same fleet with one group for all packs that have cells of A, and one for all that have none.
  const asOne = {
    cells: mixed.cells.map((one) => ({ ...one, group: one.group.startsWith("A") ? "A" : "rest" })),
    excluded: [],
  };
  const [expected] = withRatios(compareStrata(asOne), asOne).groups;
  expect(of("A")).toEqual({ ...expected, adjustedP: of("A")?.adjustedP, strata: ["M"] });
  expect(of("A")?.observed).toBe(24);
  expect(worseGroups({ groups }).map(({ group }) => group)).toEqual(["A"]);
  // L0 has its pair's packs as well, and they are not counted twice.
  expect(of("L0")).toMatchObject({ observed: 4, alone: 0 });
  expect(cellsOfOthers(mixed, { group: "A", strata: ["M"] }).every((one) => !one.group.includes("A"))).toBe(true);
  // A pair by itself is too small a group to be called.
  const pairs = { cells: mixed.cells, excluded: [] };
  expect(worseGroups(adjustFamily(compareStrata(pairs)))).toEqual([]);
});
