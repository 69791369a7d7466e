import { clopperPearsonLimits, midPBinomialLimits } from "./binomial-limits";
import { binomialAtLeast, binomialAtMost, binomialDensity } from "./binomial-tails";
import { type ExactFamily, twoSidedP } from "./exact-family";

export interface RateRatio {
  /** First rate over second; null where the second count is 0 (no finite estimate). */
  readonly ratio: number | null;
  readonly lower: number;
  /** Null where the second count is 0: no upper limit. */
  readonly upper: number | null;
  /** Two-sided, of a ratio of 1; of the same family as the limits. */
  readonly p: number;
}

/**
 * Answers: by how much do two event rates differ, when counts are small?
 *
 * Given the total of both counts the first one is binomial with probability ratio T1 / (ratio T1 + T2): an exact test of a
 * ratio of 1 and exact limits, both of the family named. For hazards that change with age take expected counts in place of
 * exposures, or stay within one age band. Without events nothing is known: p = 1, limits from 0 to null.
 *
 * Domain: whole counts from 0, exposures above 0, else a RangeError.
 * Source: Przyborowski & Wilenski, Biometrika 31 (1940) 313-323; IEC 61650 (1997) for the use on failure intensities (its
 * title and scope read, its text from memory).
 */
export function rateRatio(
  first: { readonly count: number; readonly exposure: number },
  second: { readonly count: number; readonly exposure: number },
  family: ExactFamily = "central",
  confidence = 0.95,
): RateRatio {
  for (const { exposure } of [first, second])
    if (!(exposure > 0 && Number.isFinite(exposure))) throw new RangeError(`exposure must be above 0, got ${exposure}`);
  const total = first.count + second.count;
  if (total === 0) return { ratio: null, lower: 0, upper: null, p: 1 };
  const limits = family === "central" ? clopperPearsonLimits : midPBinomialLimits;
  const share = limits(first.count, total, confidence);
  const odds = (p: number) => ((p / (1 - p)) * second.exposure) / first.exposure;
  const expectedShare = first.exposure / (first.exposure + second.exposure);
  return {
    ratio: second.count === 0 ? null : first.count / first.exposure / (second.count / second.exposure),
    lower: odds(share.lower),
    upper: second.count === 0 ? null : odds(share.upper),
    p: twoSidedP(
      {
        atLeast: binomialAtLeast(first.count, total, expectedShare),
        atMost: binomialAtMost(first.count, total, expectedShare),
        exactly: binomialDensity(first.count, total, expectedShare),
      },
      family,
    ),
  };
}
