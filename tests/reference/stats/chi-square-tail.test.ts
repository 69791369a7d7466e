import { expect, test } from "vitest";
import { chiSquareTail } from "@/lib/stats/chi-square-tail";
import { twoSidedNormalQuantile } from "@/lib/stats/normal-quantile";
import { expectWithinRelative } from "@/tests/support/within-relative";

// scipy 1.17.1, scipy.stats.chi2.sf(x, df).
const published: [number, number, number][] = [
  [0.001, 1, 0.9747728793699604],
  [0.5, 1, 0.47950012218695337],
  [3.84, 1, 0.05004352124870519],
  [10.0, 1, 0.001565402258002549],
  [60.0, 1, 9.485737571073857e-15],
  [300.0, 1, 3.2943623833139784e-67],
  [0.001, 2, 0.9995001249791693],
  [0.5, 2, 0.7788007830714049],
  [3.84, 2, 0.14660696213035013],
  [10.0, 2, 0.006737946999085468],
  [60.0, 2, 9.357622968840163e-14],
  [300.0, 2, 7.175095973164448e-66],
  [0.001, 3, 0.9999915920809419],
  [0.5, 3, 0.9188914116546758],
  [3.84, 3, 0.27926761711860965],
  [10.0, 3, 0.01856613546304325],
  [60.0, 3, 5.878230727906921e-13],
  [300.0, 3, 9.948758346327588e-65],
  [0.001, 4, 0.9999998750416589],
  [0.5, 4, 0.9735009788392561],
  [3.84, 4, 0.4280923294206225],
  [10.0, 4, 0.04042768199451279],
  [60.0, 4, 2.9008631203404573e-12],
  [300.0, 4, 1.083439491947837e-63],
  [0.001, 5, 0.9999999983185123],
  [0.5, 5, 0.9921232932326296],
  [3.84, 5, 0.5726744598320888],
  [10.0, 5, 0.07523524614651217],
  [60.0, 5, 1.2154569777183007e-11],
  [300.0, 5, 1.0015302305957817e-62],
  [0.001, 11, 1.0],
  [0.5, 11, 0.9999986265293064],
  [3.84, 11, 0.9743656630630869],
  [10.0, 11, 0.5303871510010405],
  [60.0, 11, 9.272161502836452e-9],
  [300.0, 11, 8.760297496858875e-58],
  [0.001, 12, 1.0],
  [0.5, 12, 0.9999997261864366],
  [3.84, 12, 0.9861534547738464],
  [10.0, 12, 0.615960654833063],
  [60.0, 12, 2.257348746396286e-8],
  [300.0, 12, 4.6959578959561177e-57],
];

test("the upper tail of chi-square agrees with scipy from the middle to far out", () => {
  for (const [x, df, tail] of published) expectWithinRelative(chiSquareTail(x, df), tail, 1e-13, `chi2(${df}) > ${x}`);
});

test("at 0 the tail is everything, and beyond all numbers nothing", () => {
  for (const df of [1, 2, 3, 10]) {
    expect(chiSquareTail(0, df)).toBe(1);
    expect(chiSquareTail(1e6, df)).toBe(0);
  }
});

test("arguments outside the domain are faults", () => {
  expect(() => chiSquareTail(-1, 1)).toThrow(RangeError);
  expect(() => chiSquareTail(Number.NaN, 1)).toThrow(RangeError);
  expect(() => chiSquareTail(1, 0)).toThrow(RangeError);
  expect(() => chiSquareTail(1, 1.5)).toThrow(RangeError);
});

test("95 % of a normal distribution lie within 1.959963984540054 standard errors", () => {
  // scipy 1.17.1, scipy.stats.norm.ppf(0.975); also R qnorm(0.975) = 1.959963984540054.
  expectWithinRelative(twoSidedNormalQuantile(0.95), 1.959963984540054, 1e-15);
});
