import { expect, test } from "vitest";
import { type FourfoldTable, fisherExact } from "@/lib/stats/fisher-exact";
import { numberIn, typedTable } from "@/tests/support/check-table";
import { expectWithinRelative } from "@/tests/support/within-relative";

// The first is Fisher's tea tasting (1935), the second his convictions of twins; R 4.2.2, fisher.test, the rest of its parts.
const tables = [
  { first: [3, 1], second: [1, 3], central: 0.485714286, midP: 0.257142857, oneSided: 0.242857143 },
  { first: [2, 15], second: [10, 3], central: 0.000930362, midP: 0.000480662, oneSided: 0.000465181 },
  { first: [3, 117], second: [12, 118], central: 0.044136567, midP: 0.026695021, oneSided: 0.022068283 },
  { first: [0, 250], second: [5, 235], central: 0.055180604, midP: 0.027590302, oneSided: 0.027590302 },
  { first: [23, 977], second: [45, 1055], central: 0.02715387, midP: 0.020467479, oneSided: 0.013576935 },
] as const;

test("doubled and mid-p values of five fourfold tables agree with their one-sided parts in R", () => {
  for (const { first, second, central, midP, oneSided } of tables) {
    const table: FourfoldTable = { first, second };
    const exact = fisherExact(table);
    expectWithinRelative(exact.p, central, 2e-6, `central ${first}`);
    expectWithinRelative(Math.min(exact.pAtLeast, exact.pAtMost), oneSided, 2e-6, `one-sided ${first}`);
    expectWithinRelative(fisherExact(table, "mid-p").p, midP, 2e-6, `mid-p ${first}`);
  }
});

test("p-values, odds ratio and its limits agree with fisher.test to nine digits", () => {
  const rows = typedTable(
    "statistics/ref/fisher_midp.csv",
    `
table,a,b,c,d,p_doubling,p_greater,p_less,midp_two_doubling,or_cmle,or_lo,or_hi
Fisher tea tasting (1935),3,1,1,3,0.485714285714,0.24285714286,0.985714285714,0.257142857143,6.40830886701,0.211732915306,621.933750545
Fisher convictions (dizygotic/mono) R doc,2,15,10,3,0.0009303618867,0.99998451902,0.0004651809434,0.0004806619247,0.04693660883,0.003325764034,0.3631822715
Agresti: 7/8 v 1/?: small,7,1,2,6,0.0405594405594,0.02027972028,0.999300699301,0.020979020979,16.1994227097,1.08759400183,1088.43700867
rev A 3/120 v rev B 12/130,3,117,12,118,0.0441365669712,0.99537326298,0.0220682834856,0.0266950205069,0.25333899979,0.044743416156,0.971986505
rev 0/250 v 5/240,0,250,5,235,0.0551806043591,1,0.0275903021796,0.0275903021796,0,0,1.0390618946
rev 23/1000 v 45/1100,23,977,45,1055,0.0271538696906,0.99310945628,0.0135769348453,0.0204674785644,0.55206976717,0.31628118424,0.9398866724
rev 200/10000 v 260/10050,200,9800,260,9790,0.006291279663,0.99765012846,0.0031456398315,0.0054955113712,0.76845827679,0.634468608592,0.9296322921
`,
  );
  expect(rows.length).toBeGreaterThanOrEqual(7);
  for (const row of rows) {
    const table: FourfoldTable = {
      first: [numberIn(row, "a"), numberIn(row, "b")],
      second: [numberIn(row, "c"), numberIn(row, "d")],
    };
    const exact = fisherExact(table);
    expectWithinRelative(exact.p, numberIn(row, "p_doubling"), 1e-9, `p of ${row.table}`);
    expectWithinRelative(exact.pAtLeast, numberIn(row, "p_greater"), 1e-9, `greater of ${row.table}`);
    expectWithinRelative(exact.pAtMost, numberIn(row, "p_less"), 1e-9, `less of ${row.table}`);
    expectWithinRelative(fisherExact(table, "mid-p").p, numberIn(row, "midp_two_doubling"), 1e-9, `mid-p ${row.table}`);
    // fisher.test searches with uniroot at its default absolute tolerance of 1.2e-4, for ratios above 1 on 1 / ratio.
    for (const [ours, theirs] of [
      [exact.oddsRatio, numberIn(row, "or_cmle")],
      [exact.lower, numberIn(row, "or_lo")],
      [exact.upper, numberIn(row, "or_hi")],
    ] as const) {
      const [a, b] = theirs > 1 ? [1 / (ours ?? 0), 1 / theirs] : [ours ?? -1, theirs];
      expect(Math.abs(a - b), `${row.table}: ${ours} and ${theirs}`).toBeLessThanOrEqual(1.3e-4);
    }
  }
});

// R 4.2.2: uniroot to 1e-15 on dhyper weighted by the odds ratio: estimate, central limits, mid-p limits.
const oddsRatios = [
  [[3, 1], [1, 3], 6.4083196582, 0.2117355954466, 626.2435305888, 0.3100548817191, 308.5567715812],
  [[2, 15], [10, 3], 0.04693663904968, 0.003317163950657, 0.3631896023567, 0.004824611669019, 0.2958662045915],
  [[3, 117], [12, 118], 0.2533663658461, 0.04474108737963, 0.9719984881035, 0.05605638152136, 0.8661303513366],
  [[200, 9800], [260, 9790], 0.7684558811937, 0.6344676002797, 0.9296484021427, 0.6372484680836, 0.9256844164999],
] as const;

test("odds ratios with central and mid-p limits agree with a search to the last digits in R", () => {
  for (const [first, second, oddsRatio, lower, upper, midPLower, midPUpper] of oddsRatios) {
    const central = fisherExact({ first, second });
    const midP = fisherExact({ first, second }, "mid-p");
    expectWithinRelative(central.oddsRatio ?? 0, oddsRatio, 1e-9, `ratio ${first}`);
    expectWithinRelative(central.lower, lower, 1e-9, `lower ${first}`);
    expectWithinRelative(central.upper ?? 0, upper, 1e-9, `upper ${first}`);
    expectWithinRelative(midP.lower, midPLower, 1e-9, `mid-p lower ${first}`);
    expectWithinRelative(midP.upper ?? 0, midPUpper, 1e-9, `mid-p upper ${first}`);
  }
});

test("test and limits never contradict each other within a family", () => {
  for (const family of ["central", "mid-p"] as const) {
    for (let a = 0; a <= 12; a++) {
      const { p, lower, upper } = fisherExact({ first: [a, 12 - a], second: [6, 9] }, family);
      const holdsOne = lower <= 1 && (upper === null || upper >= 1);
      expect(holdsOne, `${family}, ${a} of 12`).toBe(p >= 0.05);
    }
  }
});

test("an empty margin says nothing, a full one has no finite ratio", () => {
  expect(fisherExact({ first: [0, 5], second: [0, 7] })).toMatchObject({
    p: 1,
    oddsRatio: null,
    lower: 0,
    upper: null,
  });
  expect(fisherExact({ first: [0, 0], second: [3, 7] }).p).toBe(1);
  expect(fisherExact({ first: [5, 0], second: [0, 7] })).toMatchObject({ oddsRatio: null, upper: null });
  expect(() => fisherExact({ first: [-1, 5], second: [0, 7] })).toThrow(RangeError);
});
