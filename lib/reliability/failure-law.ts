import { type DefectiveFraction, fitDefectiveFraction } from "@/lib/stats/defective-fraction";
import { countFailures, type LifeCount } from "@/lib/stats/life-counts";
import { type WeibullCovariance, weibullCovariance } from "@/lib/stats/weibull-covariance";
import { fitWeibull, type WeibullFit, type WeibullRefusal } from "@/lib/stats/weibull-fit";
import { type LikelyShapes, likelyShapes } from "./likely-shapes";
import { type QuietSpells, quietSpells } from "./quiet-ages";

/** With fewer failures no law of their own is taken. IEC 61649 (2008) for the method; number from memory. */
export const FEWEST_FOR_LAW = 5;
/**
 * A part that can fail is preferred where a Weibull distribution for all is this unlikely. Stricter than 5 in 100, since the page
 * of every group asks anew; below 0.025 the 95 % limits of the share exclude that all can fail. Common practice, no source.
 */
export const PART_BELOW = 0.01;

/** The share of units that can fail at all, and what it is known by. */
export interface PartThatFails {
  readonly share: number;
  /** Large-sample covariance of the estimates of the logit of the share, mu = ln scale and ln sigma = -ln shape. */
  readonly doubt: readonly (readonly number[])[];
}

/** A shape that units with too few failures for a law of their own are lent by their likes, and what they say of its scale. */
export interface LentShape {
  /** Of the units, and of the likes that lend the shape. */
  readonly failures: number;
  readonly ofLenders: number;
  /** Shapes that stand for the doubt about it, and at each the units' sum of (exit / largest age)^shape - (entry / largest age)^shape, with what is added. */
  readonly points: readonly {
    readonly shape: number;
    readonly weight: number;
    readonly exposure: number;
    /** Without what is added, for the upper limit. Missing in laws kept before it rested on the units' own alone. */
    readonly ownExposure?: number | undefined;
  }[];
}

/** A fitted law with the doubt about it: all that a forecast needs of a fit, and plain numbers, so that it can be kept. */
export interface FailureLaw {
  readonly shape: number;
  readonly scale: number;
  /** Of the Weibull distribution of all units; where only a part can fail its own doubt counts instead. */
  readonly doubt: WeibullCovariance;
  /** Missing or null: all units can fail. */
  readonly part?: PartThatFails | null | undefined;
  /** Missing or null: a law of the units' own. Else what is lent, and the doubt of that counts. */
  readonly lent?: LentShape | null | undefined;
  /** Of a Weibull distribution of all units: what its failures leave open, which counts then. Missing in laws kept before it was told. */
  readonly likely?: LikelyShapes | null | undefined;
  /** Oldest age the law was seen at. */
  readonly largestAge: number;
  /** Ages at which next to nothing fails by it, with what they were watched for. Missing in laws kept before it was told. */
  readonly quiet?: QuietSpells | null | undefined;
}

export type LawRefusal =
  | { readonly refused: "too-few-failures" }
  | { readonly refused: "no-law"; readonly because: WeibullRefusal };

/**
 * Answers: by which law do these units fail? A Weibull distribution for all of them, or, where the likelihood ratio prefers it,
 * for a part of them while the others never fail of this cause. Both are refused below `FEWEST_FOR_LAW` failures.
 */
export function failureLaw(counts: readonly LifeCount[]): FailureLaw | LawRefusal {
  const { preferred } = preferredFit(counts);
  if ("refused" in preferred) return preferred;
  const plain = { ...plainLaw(preferred.plain), quiet: quietSpells(counts, preferred.part !== null) };
  if (preferred.part === null) return plain;
  const { shape, scale, share, covariance } = preferred.part;
  return { ...plain, shape, scale, likely: null, part: { share, doubt: covariance } };
}

/** The fits behind a law: of all units, and of a part of them where that is preferred. */
export interface PreferredFit {
  readonly plain: WeibullFit;
  readonly part: DefectiveFraction | null;
}

/** Which of the two laws these failures prefer, with their number; or why none is taken. */
export function preferredFit(counts: readonly LifeCount[]): {
  readonly failures: number;
  readonly preferred: PreferredFit | LawRefusal;
} {
  const failures = countFailures(counts);
  if (failures < FEWEST_FOR_LAW) return { failures, preferred: { refused: "too-few-failures" } };
  const plain = fitWeibull(counts);
  if (plain.kind === "refused") return { failures, preferred: { refused: "no-law", because: plain.reason } };
  const part = fitDefectiveFraction(counts);
  return { failures, preferred: { plain, part: part.kind === "fit" && part.p < PART_BELOW ? part : null } };
}

export function plainLaw(fit: WeibullFit): FailureLaw {
  const { shape, scale, likelihood } = fit;
  const doubt = weibullCovariance(fit);
  const likely = likelyShapes(fit, doubt.varianceLogSigma);
  return { shape, scale, doubt, likely, part: null, largestAge: likelihood.largestAge };
}
