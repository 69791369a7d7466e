import { expect, test } from "vitest";
import { holm } from "@/lib/stats/adjusted-p";
import { benjaminiHochberg } from "@/lib/stats/benjamini-hochberg";
import { logRank } from "@/lib/stats/log-rank";
import { numberIn, readCheckTable } from "@/tests/support/check-table";
import { countLives, type Life } from "@/tests/support/lives";
import { logRankRows } from "@/tests/support/log-rank-rows";
import { lungLives, publishedLives } from "@/tests/support/published-lives";
import { expectWithinRelative } from "@/tests/support/within-relative";

test("6-MP against placebo gives the published log-rank test", () => {
  // R survdiff: observed 9, expected 19.3, chi-square 16.8 on 1 degree of freedom, p 4.17e-05; more digits from R 4.2.2.
  const result = logRank([countLives(publishedLives("Gehan 6-MP")), countLives(publishedLives("Gehan control"))]);
  if (result.kind !== "test") throw new Error("a test is expected");
  expect(result.groups.map(({ observed }) => observed)).toEqual([9, 21]);
  expectWithinRelative(result.groups[0]?.expected ?? 0, 19.250500948, 1e-9);
  expectWithinRelative(result.groups[0]?.variance ?? 0, 6.256960574, 1e-9);
  expectWithinRelative(result.groups[0]?.pAgainstOthers ?? 0, 4.168809109e-5, 1e-9);
  expectWithinRelative(result.chiSquare, 16.792940989, 1e-9);
  expect(result.degreesOfFreedom).toBe(1);
  expectWithinRelative(result.p, 4.168809109e-5, 1e-9);
});

const byPerformance = (ecog: number) => lungLives((stratum) => stratum.ecog === ecog);
const tabulated: { test: string; groups: Life[][] }[] = [
  { test: "aml", groups: [publishedLives("aml Maintained"), publishedLives("aml Nonmaintained")] },
  { test: "lung sex", groups: [1, 2].map((sex) => lungLives((stratum) => stratum.sex === sex)) },
  { test: "lung ph.ecog (4 groups)", groups: [0, 1, 2, 3].map(byPerformance) },
];

for (const { test: name, groups } of tabulated) {
  test(`${name}: the log-rank test agrees with survdiff`, () => {
    const expected = logRankRows(name);
    expect(expected).toHaveLength(groups.length);
    const result = logRank(groups.map(countLives));
    if (result.kind !== "test") throw new Error("a test is expected");
    for (const [i, row] of expected.entries()) {
      expect(result.groups[i]?.observed).toBe(numberIn(row, "obs"));
      expectWithinRelative(result.groups[i]?.expected ?? 0, numberIn(row, "exp"), 1e-9, "expected");
      expectWithinRelative(result.chiSquare, numberIn(row, "chisq"), 1e-9, "chi-square");
      expect(result.degreesOfFreedom).toBe(numberIn(row, "df"));
      expectWithinRelative(result.p, numberIn(row, "p"), 1e-8, "p");
    }
  });
}

test("with delayed entry the log-rank test of three made-up revisions gives the reference values", ({ skip }) => {
  // Hypergeometric log-rank on (entry, exit] written out in R 4.2.2; the same code without entry ages equals survdiff.
  const rows = readCheckTable("statistics/data/fixture_battery_3rev.csv");
  if (rows === null) return skip("open data not present on this machine");
  const livesOf = (revision: string, isDelayed: boolean) =>
    countLives(
      rows
        .filter((row) => row.rev === revision)
        .map(
          (row): Life => [
            isDelayed ? numberIn(row, "entry_age") : 0,
            numberIn(row, "exit_age"),
            row.failed === "1" ? 1 : 0,
          ],
        ),
    );
  const test3 = (isDelayed: boolean) => logRank(["A", "B", "C"].map((revision) => livesOf(revision, isDelayed)));
  const delayed = test3(true);
  const ignoring = test3(false);
  if (delayed.kind !== "test" || ignoring.kind !== "test") throw new Error("tests are expected");
  expectWithinRelative(delayed.chiSquare, 5.926198677, 1e-9);
  expectWithinRelative(delayed.p, 0.051658561, 1e-8);
  expectWithinRelative(ignoring.chiSquare, 5.93193825, 1e-8);
  const pairs: [string, string, number, number][] = [
    ["A", "B", 2.211982192, 0.13694261466],
    ["A", "C", 0.499015985, 0.47993280921],
    ["B", "C", 5.268923429, 0.02170943476],
  ];
  for (const [a, b, chiSquare, p] of pairs) {
    const result = logRank([livesOf(a, true), livesOf(b, true)]);
    if (result.kind !== "test") throw new Error("a test is expected");
    expectWithinRelative(result.chiSquare, chiSquare, 1e-9, `${a}-${b}`);
    expectWithinRelative(result.p, p, 1e-9, `${a}-${b}`);
  }
  const tabulatedPairs = readCheckTable("statistics/ref/fixture_battery_logrank_pairs.csv");
  if (tabulatedPairs === null) return skip("open data not present on this machine");
  const p = pairs.map(([, , , value]) => value);
  const [byHochberg, byHolm] = [benjaminiHochberg(p), holm(p)];
  for (const [i, row] of tabulatedPairs.entries()) {
    expect(row.pair).toBe(pairs[i]?.slice(0, 2).join("-"));
    expectWithinRelative(pairs[i]?.[2] ?? 0, numberIn(row, "chisq"), 1e-9, `chi-square ${row.pair}`);
    expectWithinRelative(byHochberg[i] ?? 0, numberIn(row, "bh"), 1e-9, `adjusted ${row.pair}`);
    expectWithinRelative(byHolm[i] ?? 0, numberIn(row, "holm"), 1e-9, `Holm ${row.pair}`);
  }
});

test("the fifteen p-values of Benjamini and Hochberg's own example give four discoveries", () => {
  // Benjamini & Hochberg, J. R. Statist. Soc. B 57 (1995) 289-300, section 4; adjusted values: R p.adjust(method = "BH").
  const p = [
    0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528, 0.759, 1,
  ];
  const adjusted = benjaminiHochberg(p);
  const published = [0.0015, 0.003, 0.0095, 0.035625, 0.0603, 0.06385714286, 0.06385714286, 0.0645, 0.0765, 0.486];
  for (const [i, value] of published.entries()) expectWithinRelative(adjusted[i] ?? 0, value, 1e-9, `p ${i + 1}`);
  expect(adjusted.filter((value) => value <= 0.05)).toHaveLength(4);
});
