import { expect, test } from "vitest";
import { benjaminiYekutieli, bonferroni, hochberg, holm } from "@/lib/stats/adjusted-p";
import { benjaminiHochberg } from "@/lib/stats/benjamini-hochberg";
import { numberIn, typedTable } from "@/tests/support/check-table";
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

test("all five adjustments agree with p.adjust, in any order of the p-values", () => {
  const rows = typedTable(
    "statistics/ref/benjamini_hochberg_1995.csv",
    `
p,bh,by,holm,hochberg,bonf
0.0001,0.0015,0.00497734349,0.0015,0.0015,0.0015
0.0004,0.003,0.00995468698,0.0056,0.0056,0.006
0.0019,0.0095,0.03152317544,0.0247,0.0247,0.0285
0.0095,0.035625,0.11821190788,0.114,0.114,0.1425
0.0201,0.0603,0.20008920829,0.2211,0.2211,0.3015
0.0278,0.06385714286,0.21189262285,0.278,0.2682,0.417
0.0298,0.06385714286,0.21189262285,0.278,0.2682,0.447
0.0344,0.0645,0.21402577006,0.278,0.2752,0.516
0.0459,0.0765,0.25384451798,0.3213,0.3213,0.6885
0.324,0.486,1,1,1,1
0.4262,0.58118181818,1,1,1,1
0.5719,0.714875,1,1,1,1
0.6528,0.75323076923,1,1,1,1
0.759,0.81321428571,1,1,1,1
1,1,1,1,1,1
`,
  );
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
