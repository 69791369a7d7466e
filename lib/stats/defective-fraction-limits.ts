import { type DefectiveFraction, logistic, partSlopes, partTerms } from "./defective-fraction";
import { findRoot } from "./find-root";
import type { LifeCount } from "./life-counts";
import { newtonMaximum } from "./newton-maximum";
import { twoSidedNormalQuantile } from "./normal-quantile";

/** A side is null where the data set no limit. */
export interface OpenLimits {
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface DefectiveFractionLimits {
  /** An upper limit of 1: that all units can fail is not excluded. */
  readonly share: { readonly lower: number; readonly upper: number };
  readonly shape: OpenLimits;
  readonly scale: OpenLimits;
}

/** So many standard errors out a limit is looked for; farther there is none worth the name. */
const MOST_STEPS = 24;

/** The likelihood at its best over the other two, as what is left of the allowance there. */
interface Profile {
  readonly value: number;
  readonly spare: number;
  readonly others: readonly number[];
}

/**
 * Two-sided limits of share, shape and scale by profile likelihood: all values at which the likelihood, at its best over the
 * other two, is within half a chi-square quantile of the summit. Of one family with the test that prefers the part: where that
 * has p below half the tail outside the limits, a share of 1 lies outside them, which limits by standard errors do not keep to.
 *
 * @param fit of just these counts. Source: Meeker & Escobar, Statistical Methods for Reliability Data (1998), section 8.3;
 * Venzon & Moolgavkar, Appl. Statist. 37 (1988) 87-94.
 */
export function defectiveFractionLimits(
  counts: readonly LifeCount[],
  fit: DefectiveFraction,
  confidence = 0.95,
): DefectiveFractionLimits {
  const terms = partTerms(counts);
  const best = [Math.log(fit.share / (1 - fit.share)), Math.log(fit.scale), -Math.log(fit.shape)];
  const allowance = twoSidedNormalQuantile(confidence) ** 2 / 2;
  const side = (of: 0 | 1 | 2, direction: 1 | -1) => {
    const spare = (value: number, others: readonly number[]): Profile | null => {
      const full = (x: readonly number[]) => [...x.slice(0, of), value, ...x.slice(of)];
      const summit = newtonMaximum((x) => {
        const { value: height, gradient } = partSlopes(terms, full(x));
        return { value: height, gradient: gradient.filter((_, i) => i !== of) };
      }, others);
      return summit && { value, spare: summit.value - fit.logLikelihood + allowance, others: summit.at };
    };
    const step = (direction * Math.sqrt(fit.covariance[of]?.[of] ?? 0)) / 2;
    // Followed outwards from the summit, each search starting where the last one ended.
    let inside: Profile = { value: best[of] ?? 0, spare: allowance, others: best.filter((_, i) => i !== of) };
    for (let i = 1; i <= MOST_STEPS; i++) {
      const there = spare(inside.value + step, inside.others);
      if (there === null) return null;
      if (there.spare <= 0) {
        const { value: from, spare: atFrom, others } = inside;
        const at = (value: number) => (value === from ? atFrom : value === there.value ? there.spare : null);
        return findRoot((value) => at(value) ?? spare(value, others)?.spare ?? -allowance, from, there.value);
      }
      inside = there;
    }
    return null;
  };
  const limit = (x: number | null, of: (value: number) => number) => (x === null ? null : of(x));
  const [shareLower, shareUpper] = [side(0, -1), side(0, 1)];
  return {
    share: {
      lower: shareLower === null ? 0 : logistic(shareLower),
      upper: shareUpper === null ? 1 : logistic(shareUpper),
    },
    scale: { lower: limit(side(1, -1), Math.exp), upper: limit(side(1, 1), Math.exp) },
    // Of minus ln shape, so its sides change places.
    shape: { lower: limit(side(2, 1), (x) => Math.exp(-x)), upper: limit(side(2, -1), (x) => Math.exp(-x)) },
  };
}
