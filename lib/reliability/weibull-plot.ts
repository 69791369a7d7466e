import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import type { LifeCount } from "@/lib/stats/life-counts";
import type { Limits } from "@/lib/stats/survival-limits";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { weibullFailed, weibullLimits } from "@/lib/stats/weibull-limits";
import { FEWEST_FOR_LAW } from "./failure-law";
import { hazardWords } from "./hazard-words";
import { weibullRefusal } from "./refusal-sentences";

export interface WeibullPoint {
  readonly ageDays: number;
  readonly failures: number;
  readonly atRisk: number;
  /** Plotting position: share failed, halfway up the step of the curve. */
  readonly plotted: number;
  /** What the fitted line says at the age. */
  readonly fitted: number;
}

export interface WeibullLinePoint extends Limits {
  readonly ageDays: number;
  readonly failed: number;
}

export type WeibullPlot =
  | {
      readonly kind: "plot";
      readonly failures: number;
      readonly shape: number;
      /** 95 % limits by likelihood ratio; null where the failures do not bound it. */
      readonly shapeLimits: Limits | null;
      readonly points: readonly WeibullPoint[];
      readonly line: readonly WeibullLinePoint[];
      /** Points that lie outside the limits of the line. */
      readonly outside: number;
    }
  | { readonly kind: "refused"; readonly sentence: string };

/** Ages at which line and limits are worked out. Engineering default: straight between them on the paper's scales. */
const LINE_AGES = 12;
/** Share of points that may lie outside pointwise 95 % limits before the line is doubted. Engineering default, no authority. */
const MOST_OUTSIDE = 0.1;

/**
 * Answers: do the failures lie on a straight line on Weibull paper (ln age against ln(-ln(1 - share failed))), as they
 * would if one Weibull distribution held for all?
 *
 * A failure age is plotted halfway up its step of the Kaplan-Meier curve, 1 - (S before + S after) / 2; line by maximum
 * likelihood, limits pointwise by likelihood ratio, 95 %. Refused with a sentence below five failures, or without a fit.
 * Source: Meeker & Escobar, Statistical Methods for Reliability Data (1998), sections 6.4 and 8.3.
 */
export function weibullPlot(counts: readonly LifeCount[]): WeibullPlot {
  const fit = fitWeibull(counts);
  if (fit.kind === "refused") return { kind: "refused", sentence: weibullRefusal(fit.reason) };
  if (fit.failures < FEWEST_FOR_LAW) {
    const sentence = `Only ${fit.failures} failures: fewer than ${FEWEST_FOR_LAW} lie on a straight line by luck, so no line is drawn.`;
    return { kind: "refused", sentence };
  }
  const failedAt = (age: number) => -Math.expm1(-((age / fit.scale) ** fit.shape));
  let before = 1;
  const points = kaplanMeier(counts).steps.map(({ age, failures, atRisk, survival }) => {
    const plotted = 1 - (before + survival) / 2;
    before = survival;
    return { ageDays: age, failures, atRisk, plotted, fitted: failedAt(age) };
  });
  const [first, last] = [points[0]?.ageDays ?? 1, points.at(-1)?.ageDays ?? 1];
  const line = Array.from({ length: LINE_AGES }, (_, i) => {
    const ageDays = first * (last / first) ** (i / (LINE_AGES - 1));
    const at = weibullFailed(fit, ageDays);
    return at === null ? null : { ageDays, ...at };
  });
  if (first === last || line.includes(null)) return { kind: "refused", sentence: weibullRefusal("limits-unbounded") };
  const drawn = line.filter((at) => at !== null);
  const outside = points.filter((point) => isOutside(point, drawn)).length;
  const shapeLimits = weibullLimits(fit)?.shape ?? null;
  return { kind: "plot", failures: fit.failures, shape: fit.shape, shapeLimits, points, line: drawn, outside };
}

/** Height on Weibull paper of a share failed strictly between 0 and 1. */
export function paperHeight(failed: number): number {
  return Math.log(-Math.log1p(-failed));
}

function isOutside({ ageDays, plotted }: WeibullPoint, line: readonly WeibullLinePoint[]): boolean {
  const next = line.findIndex((at) => at.ageDays >= ageDays * (1 - 1e-9));
  const [a, b] = [line[Math.max(0, next - 1)], line[next]];
  if (a === undefined || b === undefined) return false;
  const part = a === b ? 0 : Math.log(ageDays / a.ageDays) / Math.log(b.ageDays / a.ageDays);
  const between = (side: "lower" | "upper") =>
    paperHeight(a[side]) + part * (paperHeight(b[side]) - paperHeight(a[side]));
  return paperHeight(plotted) < between("lower") || paperHeight(plotted) > between("upper");
}

/** What the picture shows, in one sentence. */
export function weibullPlotSentence(plot: WeibullPlot): string {
  if (plot.kind === "refused") return `No line is drawn. ${plot.sentence}`;
  const { outside, points, failures, shape, shapeLimits } = plot;
  const fits =
    outside <= MOST_OUTSIDE * points.length
      ? `Nothing speaks against one Weibull distribution: ${outside} of ${points.length} points lie outside its limits, which with few points proves little`
      : `${outside} of ${points.length} points lie outside its limits, so one Weibull distribution does not stand for all of them`;
  const limits = shapeLimits && ` (95 % limits ${shapeLimits.lower.toFixed(2)} to ${shapeLimits.upper.toFixed(2)})`;
  return `${fits}: ${failures} failures, shape ${shape.toFixed(2)}${limits ?? ""}.${shapeLimits ? ` ${hazardWords(shapeLimits)}` : ""}`;
}
