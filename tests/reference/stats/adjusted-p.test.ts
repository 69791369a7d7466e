import { expect, test } from "vitest";
import { benjaminiYekutieli, bonferroni, hochberg, holm } from "@/lib/stats/adjusted-p";
import { benjaminiHochberg } from "@/lib/stats/benjamini-hochberg";
import { numberIn, readCheckTable } from "@/tests/support/check-table";
import { seededRandom } from "@/tests/support/seeded-random";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Benjamini & Hochberg, J. R. Statist. Soc. B 57 (1995) 289-300, section 4.
const published = [
  0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528, 0.759, 1,
];

test("of the published fifteen p-values four stand at a false discovery rate of 5 %, three by Bonferroni", () => {
  expect(benjaminiHochberg(published).filter((p) => p <= 0.05)).toHaveLength(4);
  expect(bonferroni(published).filter((p) => p <= 0.05)).toHaveLength(3);
});

test("all five adjustments agree with p.adjust, in any order of the p-values", ({ skip }) => {
  const rows = readCheckTable("statistics/ref/benjamini_hochberg_1995.csv");
  if (rows === null) return skip("open data not present on this machine");
  expect(rows.map((row) => numberIn(row, "p"))).toEqual(published);
  const uniform = seededRandom(5);
  const order = published.map((_, i) => ({ i, key: uniform() })).sort((a, b) => a.key - b.key);
  const shuffled = order.map(({ i }) => published[i] ?? 0);
  for (const [column, adjust] of [
    ["bh", benjaminiHochberg],
    ["by", benjaminiYekutieli],
    ["holm", holm],
    ["hochberg", hochberg],
    ["bonf", bonferroni],
  ] as const) {
    for (const [place, p] of adjust(shuffled).entries()) {
      const row = rows[order[place]?.i ?? 0];
      if (row === undefined) throw new Error("a row is expected");
      expectWithinRelative(p, numberIn(row, column), 1e-8, `${column} of ${row.p}`);
    }
  }
});

test("an empty family stays empty and a p-value above 1 is refused", () => {
  for (const adjust of [benjaminiYekutieli, holm, hochberg, bonferroni]) {
    expect(adjust([])).toEqual([]);
    expect(() => adjust([0.2, 1.2])).toThrow(RangeError);
  }
});
