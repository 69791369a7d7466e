import { expect, test } from "vitest";
import { logRank, stratifiedLogRank } from "@/lib/stats/log-rank";
import { numberIn } from "@/tests/support/check-table";
import { countLives } from "@/tests/support/lives";
import { logRankRows } from "@/tests/support/log-rank-rows";
import { lungLives, publishedLives } from "@/tests/support/published-lives";
import { veteranLives } from "@/tests/support/veteran-lives";
import { expectWithinRelative } from "@/tests/support/within-relative";

const cellTypes = ["squamous", "smallcell", "adeno", "large"] as const;

test("lung cancer by cell type gives the four-group test of survdiff", () => {
  // R 4.2.2, survival 3.5-3: survdiff(Surv(time, status) ~ celltype, veteran): 25.40370035 on 3, p 1.271246e-05.
  const result = logRank(cellTypes.map((cell) => countLives(veteranLives(({ cellType }) => cellType === cell))));
  if (result.kind !== "test") throw new Error("a test is expected");
  expect(result.degreesOfFreedom).toBe(3);
  expectWithinRelative(result.chiSquare, 25.40370035, 1e-9);
  expectWithinRelative(result.p, 1.271246e-5, 1e-6);
  for (const row of logRankRows("veteran celltype (4 groups)")) {
    const group = result.groups[cellTypes.findIndex((cell) => row.group === `celltype=${cell}`)];
    expect(group?.observed).toBe(numberIn(row, "obs"));
    expectWithinRelative(group?.expected ?? 0, numberIn(row, "exp"), 1e-9);
  }
});

test("lung cancer by cell type within treatments gives the stratified test of survdiff", () => {
  // R 4.2.2, survival 3.5-3: survdiff(Surv(time, status) ~ celltype + strata(trt), veteran).
  const result = stratifiedLogRank(
    [1, 2].map((treatment) =>
      cellTypes.map((cell) => countLives(veteranLives((row) => row.cellType === cell && row.treatment === treatment))),
    ),
  );
  if (result.kind !== "test") throw new Error("a test is expected");
  expectWithinRelative(result.chiSquare, 22.7821199353, 1e-11);
  expect(result.groups.map(({ observed }) => observed)).toEqual([31, 45, 26, 26]);
  const expected = [45.1818373947, 30.6371388922, 16.3743103991, 35.806713314];
  const variance = [23.57640393577, 20.76615026264, 13.01459715588, 23.26322013069];
  for (const [i, group] of result.groups.entries()) {
    expectWithinRelative(group.expected, expected[i] ?? 0, 1e-11, "expected");
    expectWithinRelative(group.variance, variance[i] ?? 0, 1e-11, "variance");
  }
});

test("lung by sex within performance status gives the stratified test of survdiff", () => {
  // R 4.2.2, survival 3.5-3: survdiff(Surv(time, status) ~ sex + strata(ph.ecog), lung).
  const result = stratifiedLogRank(
    [0, 1, 2, 3].map((ecog) =>
      [1, 2].map((sex) => countLives(lungLives((stratum) => stratum.ecog === ecog && stratum.sex === sex))),
    ),
  );
  if (result.kind !== "test") throw new Error("a test is expected");
  expectWithinRelative(result.chiSquare, 10.7950596335, 1e-11);
  expectWithinRelative(result.groups[0]?.expected ?? 0, 90.6410226637, 1e-11);
});

test("6-MP against placebo with early weeks weighing more gives the Peto test of survdiff", () => {
  // R 4.2.2, survival 3.5-3: survdiff(rho = 1) on Freireich et al., Blood 21 (1963) 699-716.
  const expected = logRankRows("gehan Peto");
  const result = logRank([countLives(publishedLives("Gehan 6-MP")), countLives(publishedLives("Gehan control"))], 1);
  if (result.kind !== "test") throw new Error("a test is expected");
  expectWithinRelative(result.chiSquare, 14.457150819, 1e-9);
  expectWithinRelative(result.p, 1.433844e-4, 1e-6);
  for (const [i, row] of expected.entries()) {
    expectWithinRelative(result.groups[i]?.observed ?? 0, numberIn(row, "obs"), 1e-8, "observed");
    expectWithinRelative(result.groups[i]?.expected ?? 0, numberIn(row, "exp"), 1e-8, "expected");
    expectWithinRelative(result.groups[i]?.variance ?? 0, numberIn(row, "V11"), 1e-8, "variance");
  }
});

test("a stratum without one of the groups takes part with the others only", () => {
  const a = countLives([
    [0, 3, 1],
    [0, 5, 0],
    [0, 6, 1],
  ]);
  const b = countLives([
    [0, 4, 1],
    [0, 7, 1],
    [0, 9, 0],
  ]);
  const alone = stratifiedLogRank([[a, b]]);
  expect(
    stratifiedLogRank([
      [a, b],
      [a, []],
    ]),
  ).toMatchObject({
    chiSquare: alone.kind === "test" ? alone.chiSquare : null,
  });
  expect(() => stratifiedLogRank([[a, b], [a]])).toThrow(RangeError);
  expect(() => stratifiedLogRank([])).toThrow(RangeError);
});
