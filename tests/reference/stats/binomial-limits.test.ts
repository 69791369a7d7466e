import { expect, test } from "vitest";
import { clopperPearsonLimits, jeffreysLimits, midPBinomialLimits, wilsonLimits } from "@/lib/stats/binomial-limits";
import { binomialAtLeast, binomialAtMost, binomialDensity } from "@/lib/stats/binomial-tails";
import { numberIn, typedTable } from "@/tests/support/check-table";
import { expectWithinRelative } from "@/tests/support/within-relative";

// First four rows: Newcombe, Statist. Med. 17 (1998) 857-872, table I; all by R 4.2.2 (qbeta, uniroot on pbinom), to 6 digits.
const intervals = [
  [0, 20, [0, 0.168433], [0, 0.161125], [0, 0.116639], [0, 0.139108]],
  [1, 29, [0.000873, 0.177644], [0.006113, 0.171755], [0.003746, 0.150078], [0.001725, 0.158537]],
  [15, 148, [0.057844, 0.16165], [0.062386, 0.160487], [0.060449, 0.157643], [0.060064, 0.158122]],
  [81, 263, [0.252737, 0.367622], [0.255289, 0.36621], [0.254522, 0.365647], [0.254402, 0.365773]],
  [4, 20, [0.057334, 0.436614], [0.080658, 0.416017], [0.07152, 0.408226], [0.066972, 0.414858]],
  [7, 1500, [0.001878, 0.009591], [0.002262, 0.009602], [0.00209, 0.009141], [0.002043, 0.009209]],
] as const;
const methods = [clopperPearsonLimits, wilsonLimits, jeffreysLimits, midPBinomialLimits] as const;

test("four kinds of limits of a share agree with Newcombe's table", () => {
  for (const [x, n, ...printed] of intervals) {
    for (const [i, [lower, upper]] of printed.entries()) {
      const limits = methods[i]?.(x, n);
      expect(Math.abs((limits?.lower ?? Number.NaN) - lower), `${x}/${n}, method ${i}`).toBeLessThanOrEqual(5.01e-7);
      expect(Math.abs((limits?.upper ?? Number.NaN) - upper), `${x}/${n}, method ${i}`).toBeLessThanOrEqual(5.01e-7);
    }
  }
});

test("4 of 20 at 90 % agrees with the NIST handbook", () => {
  // NIST/SEMATECH e-Handbook 7.2.4.1 (from memory) and R 4.2.2, qbeta.
  const { lower, upper } = clopperPearsonLimits(4, 20, 0.9);
  expectWithinRelative(lower, 0.071354, 5e-6);
  expectWithinRelative(upper, 0.401028, 5e-6);
});

test("the limits agree with R to nine digits from 0 of 10 to 200 of 10,000", () => {
  const rows = typedTable(
    "statistics/ref/binomial_intervals.csv",
    `
x,n,cp_lo,cp_hi,wil_lo,wil_hi,jef_lo,jef_hi,midp_lo,midp_hi
0,10,0,0.308497107819,2.0052493e-17,0.277532799863,0,0.217196267509,0,0.258865550893
1,10,0.0025285785445,0.445016117028,0.0178762131,0.404150026795,0.011011673763,0.381314771067,0.0050014752824,0.403476155738
0,20,0,0.168433470983,1.164172705e-17,0.161125158053,0,0.116638982905,0,0.139108340668
4,20,0.05733399705,0.436614002997,0.08065766258,0.416017432252,0.071520052479,0.408225762517,0.0669723444379,0.414857918968
1,29,0.0008726468836,0.177644295489,0.006113214293,0.171755218793,0.003746173649,0.150077686002,0.0017247701147,0.158537383681
0,34,0,0.102817924259,6.234495183e-18,0.101514554153,0,0.070711630679,0,0.084339643351
81,263,0.252736745585,0.367621922601,0.2552885199,0.366209576983,0.254521934991,0.365647499174,0.254402104945,0.365773474258
15,148,0.0578440100834,0.161650490349,0.06238639953,0.160487241723,0.060448517009,0.157643143479,0.0600636026655,0.158121733051
0,100,0,0.036216692645,0,0.036993498207,0,0.024745270015,0,0.029513049607
1,100,0.000253146033,0.054459385392,0.001767432064,0.054486196179,0.001081101709,0.045778896601,0.0005001975253,0.048319848611
2,100,0.0024313368239,0.070383932471,0.00550196755,0.070011790729,0.004178812447,0.062605848785,0.0033669441484,0.06450071703
5,100,0.0164318791821,0.112834911105,0.02154367915,0.111750469232,0.019331811986,0.106100073883,0.0185479555439,0.107321295634
3,120,0.0051855749583,0.071323194157,0.00853817477,0.070930033328,0.007090264231,0.06520534563,0.0063976806764,0.066513134019
0,250,0,0.014647188636,8.54235693e-19,0.015133299495,0,0.009987511457,0,0.011911419715
7,1500,0.0018782382053,0.009591340895,0.002262354082,0.009601568619,0.002089728153,0.00914068575,0.0020432699205,0.009209309023
23,1000,0.0146345823252,0.034312337613,0.01537427693,0.034276450662,0.015034921961,0.033716564628,0.0149894370136,0.033772062073
30,1000,0.0203304856831,0.04255140247,0.02109373883,0.042503414148,0.020743946028,0.041968444835,0.0207031617035,0.042016853405
200,10000,0.0173465353266,0.022937924776,0.01743471168,0.022933926761,0.017393162183,0.022884584854,0.0173914748353,0.02288638813
12,4173,0.0014867349249,0.005017751858,0.001645779361,0.005019893516,0.001572908574,0.004865025322,0.0015589808432,0.004883636197
10,10,0.691502892181,1,0.7224672001,1,0.782803732491,1,0.741134449107,1
`,
  );
  expect(rows.length).toBeGreaterThanOrEqual(20);
  for (const row of rows) {
    const [x, n] = [numberIn(row, "x"), numberIn(row, "n")];
    for (const [i, name] of ["cp", "wil", "jef", "midp"].entries()) {
      const limits = methods[i]?.(x, n);
      // The Wilson limit of 0 of n is 0; the table holds the 2e-17 that rounding leaves of it.
      if (x > 0)
        expectWithinRelative(limits?.lower ?? -1, numberIn(row, `${name}_lo`), 2e-9, `${name} ${x}/${n} lower`);
      else expect(limits?.lower).toBe(0);
      expectWithinRelative(limits?.upper ?? -1, numberIn(row, `${name}_hi`), 2e-9, `${name} ${x}/${n} upper`);
    }
  }
});

test("the Wilson limit of 0 of n is exactly 0 and that of n of n exactly 1", () => {
  for (const n of [1, 10, 20, 34, 250]) {
    expect(wilsonLimits(0, n).lower).toBe(0);
    expect(wilsonLimits(n, n).upper).toBe(1);
  }
});

test("tails and densities agree with pbinom and dbinom", () => {
  // R 4.2.2: dbinom(7, 1500, 0.004), pbinom(6, 1500, 0.004, lower = FALSE), pbinom(2, 1e6, 1e-5).
  expectWithinRelative(binomialDensity(7, 1500, 0.004), 0.137953130042917, 1e-12);
  expectWithinRelative(binomialAtLeast(7, 1500, 0.004), 0.393697002563347, 1e-12);
  // 1 - 1e-5 holds only 11 digits of the 1e-5.
  expectWithinRelative(binomialAtMost(2, 1_000_000, 1e-5), 0.00276930491648816, 1e-10);
  expect(binomialAtLeast(0, 5, 0.3)).toBe(1);
  expect(binomialAtLeast(6, 5, 0.3)).toBe(0);
});

test("what is no count of a share is refused", () => {
  expect(() => clopperPearsonLimits(3, 2)).toThrow(RangeError);
  expect(() => wilsonLimits(1, 0)).toThrow(RangeError);
  expect(() => jeffreysLimits(0.5, 2)).toThrow(RangeError);
});
