import { expect, test } from "vitest";
import { clopperPearsonLimits, jeffreysLimits, midPBinomialLimits, wilsonLimits } from "@/lib/stats/binomial-limits";
import { binomialAtLeast, binomialAtMost, binomialDensity } from "@/lib/stats/binomial-tails";
import { numberIn, readCheckTable } from "@/tests/support/check-table";
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

test("the limits agree with R to nine digits from 0 of 10 to 200 of 10,000", ({ skip }) => {
  const rows = readCheckTable("statistics/ref/binomial_intervals.csv");
  if (rows === null) return skip("open data not present on this machine");
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
