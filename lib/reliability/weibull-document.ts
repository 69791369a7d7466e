import { fitDefectiveFraction } from "@/lib/stats/defective-fraction";
import { defectiveFractionLimits } from "@/lib/stats/defective-fraction-limits";
import type { LifeCount } from "@/lib/stats/life-counts";
import { lifeAtShare, weibayes } from "@/lib/stats/weibayes";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { weibullLife, weibullLimits } from "@/lib/stats/weibull-limits";
import { FEWEST_FOR_LAW, PART_BELOW } from "./failure-law";
import { defectiveRefusal, weibullRefusal } from "./refusal-sentences";

type Pair = readonly [lower: number, upper: number];
type OpenPair = readonly [lower: number | null, upper: number | null];
export type Refused = { readonly refused: string };

export interface WeibullDocument {
  readonly shape: number;
  readonly scale: number;
  readonly logLikelihood: number;
  readonly shapeLimits: Pair;
  readonly scaleLimits: Pair;
  /** Ages by which 1, 10 and 50 % have failed. */
  readonly lives: readonly { readonly failed: number; readonly age: number; readonly limits: Pair }[];
  readonly defectiveFraction: DefectiveFractionDocument | Refused;
}

export interface DefectiveFractionDocument {
  readonly share: number;
  /** By profile likelihood, as all limits here; null where the failures set none. */
  readonly shareLimits: Pair;
  readonly shape: number;
  readonly shapeLimits: OpenPair;
  readonly scale: number;
  readonly scaleLimits: OpenPair;
  readonly logLikelihood: number;
  /** Of "all units can fail" against this. */
  readonly p: number;
  readonly preferred: boolean;
}

export interface WeibayesDocument {
  readonly assumedShape: number;
  readonly scale: number | null;
  /** Two-sided 95 %; no upper limit without a failure. */
  readonly scaleLimits: OpenPair;
  /** At one-sided 95 %. */
  readonly scaleLowerLimit: number;
  /** Age by which 10 % have failed at the lower limit of the scale. */
  readonly b10LowerLimit: number;
}

const LIVES = [0.01, 0.1, 0.5] as const;
/** Shapes tried where none is given: constant hazard, mild and clear wear-out. Engineering default, no authority. */
const ASSUMED_SHAPES = [1, 2, 3] as const;

/** The Weibull fit of one group with everything that rests on it, or a sentence why there is none. */
export function weibullDocument(counts: readonly LifeCount[]): WeibullDocument | Refused {
  const fit = fitWeibull(counts);
  if (fit.kind === "refused") return { refused: weibullRefusal(fit.reason) };
  const limits = weibullLimits(fit);
  const lives = LIVES.map((failed) => ({ failed, life: weibullLife(fit, failed) }));
  if (limits === null) return { refused: weibullRefusal("limits-unbounded") };
  return {
    shape: fit.shape,
    scale: fit.scale,
    logLikelihood: fit.logLikelihood,
    shapeLimits: [limits.shape.lower, limits.shape.upper],
    scaleLimits: [limits.scale.lower, limits.scale.upper],
    lives: lives.flatMap(({ failed, life }) => {
      return life === null ? [] : [{ failed, age: life.age, limits: [life.lower, life.upper] as const }];
    }),
    defectiveFraction: defectiveDocument(counts),
  };
}

function defectiveDocument(counts: readonly LifeCount[]): DefectiveFractionDocument | Refused {
  const fit = fitDefectiveFraction(counts);
  if (fit.kind === "refused") return { refused: defectiveRefusal(fit.reason) };
  const { share, shape, scale, logLikelihood, p } = fit;
  const limits = defectiveFractionLimits(counts, fit);
  return {
    share,
    shareLimits: [limits.share.lower, limits.share.upper],
    shape,
    shapeLimits: [limits.shape.lower, limits.shape.upper],
    scale,
    scaleLimits: [limits.scale.lower, limits.scale.upper],
    logLikelihood,
    p,
    preferred: p < PART_BELOW,
  };
}

/**
 * Lives at assumed shapes: those given, or three usual ones where the failures are too few to fit a shape. Null where a
 * fitted shape serves and none was asked for.
 */
export function weibayesDocument(
  counts: readonly LifeCount[],
  failures: number,
  assumedShape: number | null,
): WeibayesDocument[] | null {
  if (assumedShape === null && failures >= FEWEST_FOR_LAW) return null;
  const shapes = assumedShape === null ? ASSUMED_SHAPES : [assumedShape];
  return shapes.flatMap((shape) => {
    const result = weibayes(counts, shape);
    if ("kind" in result) return [];
    const { scale, lower, upper, lowerOneSided } = result;
    const b10LowerLimit = lifeAtShare(shape, lowerOneSided, 0.1);
    return [
      {
        assumedShape: shape,
        scale,
        scaleLimits: [lower, upper] as const,
        scaleLowerLimit: lowerOneSided,
        b10LowerLimit,
      },
    ];
  });
}
