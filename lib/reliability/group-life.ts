import { CauseTally } from "@/lib/stats/cause-tally";
import { cumulativeIncidence } from "@/lib/stats/cumulative-incidence";
import type { DefectiveFraction } from "@/lib/stats/defective-fraction";
import { type DefectiveFractionLimits, defectiveFractionLimits } from "@/lib/stats/defective-fraction-limits";
import { type KaplanMeierCurve, kaplanMeier } from "@/lib/stats/kaplan-meier";
import type { LagWeightedCurve } from "@/lib/stats/lag-weighted-survival";
import { poissonRate, type RateEstimate } from "@/lib/stats/poisson-limits";
import type { Limits } from "@/lib/stats/survival-limits";
import { type Weibayes, weibayes } from "@/lib/stats/weibayes";
import { weibullLimits } from "@/lib/stats/weibull-limits";
import {
  type CannotTellReason,
  type FailureEstimate,
  FEWEST_AT_RISK,
  failureEstimate,
  LARGEST_RELATIVE_STANDARD_ERROR,
} from "./failure-estimate";
import { preferredFit } from "./failure-law";
import { cutBack } from "./hidden-exposure";
import { lagCorrectedCurve } from "./lag-corrected-curve";
import { lendersLaw } from "./lent-law";
import { countCells, countCellsApart, type LifeCell, sumPacks } from "./life-cell";
import { countLongUndecided, takenAsFailures } from "./long-undecided";
import { DAYS_PER_MONTH, MILESTONE_MONTHS } from "./months-in-service";
import { weibullRefusal } from "./refusal-sentences";
import type { Reporting } from "./reporting";
import { type WeibullPlot, weibullPlot } from "./weibull-plot";

export interface FaultShare extends Limits {
  /** Fault found, as the decision names it. */
  readonly fault: string;
  readonly failures: number;
  /** Share of packs that have failed of it by `months`, other faults coming first allowed for. */
  readonly share: number;
  readonly months: number;
  readonly ageDays: number;
  /** Packs at risk at that age, whatever they may fail of. */
  readonly atRisk: number;
  /** Why the share is not to be relied on; null where it is. */
  readonly doubt: CannotTellReason | null;
}

export type LifeModel =
  | {
      readonly kind: "weibull";
      readonly failures: number;
      readonly shape: number;
      readonly scale: number;
      readonly limits: { readonly shape: Limits; readonly scale: Limits };
    }
  | {
      readonly kind: "part-can-fail";
      readonly failures: number;
      readonly fit: DefectiveFraction;
      readonly limits: DefectiveFractionLimits;
    }
  | {
      readonly kind: "assumed-shape";
      readonly fit: Weibayes;
      readonly shapeFrom: string;
      /** The same at both limits of the shape that was lent; empty where the failures of the others set none. */
      readonly atItsLimits: readonly Weibayes[];
    }
  | { readonly kind: "refused"; readonly sentence: string };

/** What a law, its picture and a rate rest on: lives cut back so far that hardly any failure before the cut is missing. */
export interface SettledLives {
  /** Days before the data date that are cut off. */
  readonly days: number;
  /** Failures told by then, and those told since, which are left out. */
  readonly failures: number;
  readonly failuresLeftOut: number;
}

/** What one likelihood, or one count of pack-months, says of the settled lives. */
export interface SettledLaw {
  readonly settled: SettledLives;
  readonly model: LifeModel;
  /** The same failures on Weibull paper. */
  readonly plot: WeibullPlot;
  /** Failures per 1,000 pack-months with exact limits; null without exposure. */
  readonly rate: RateEstimate | null;
}

export interface GroupLife extends SettledLaw {
  readonly faults: readonly FaultShare[];
  readonly lagCorrected: LagWeightedCurve;
  /** The same were the returns of the group, and of its likes, failures that are undecided for longer; null where it has none. */
  readonly ifFailures: (SettledLaw & { readonly undecided: number }) | null;
}

/**
 * What more can be said of one group than its curve: which faults, by what law, how often a month, and the curve with the
 * failures that are still on their way allowed for.
 *
 * Law, picture and rate take the lives cut back: no weight stands for what is on its way in their likelihoods, so the missing
 * last weeks would read as packs that fail less of late, or as a part of them that cannot fail. A return undecided for longer than
 * that stands in them as a life that ended without a failure, so all is said once more with such returns as failures.
 *
 * @param cells of the group, line of confirmed failures. @param likes cells of the others of its model, for the shape.
 * @param settledDays days before the data date from which on not everything is confirmed yet.
 */
export function groupLife(
  cells: readonly LifeCell[],
  likes: readonly LifeCell[],
  reporting: Reporting,
  settledDays: number,
): GroupLife {
  const confirmed = cells.filter(({ line }) => line === "confirmed");
  const undecided = countLongUndecided(confirmed, settledDays);
  const taken = (some: readonly LifeCell[]) => takenAsFailures(some, settledDays);
  return {
    faults: faultShares(confirmed),
    ...lawOfSettled(confirmed, likes, settledDays),
    lagCorrected: lagCorrectedCurve(confirmed, reporting),
    ifFailures: undecided === 0 ? null : { ...lawOfSettled(taken(confirmed), taken(likes), settledDays), undecided },
  };
}

function lawOfSettled(cells: readonly LifeCell[], likes: readonly LifeCell[], days: number): SettledLaw {
  const settled = cutBack(cells, days);
  const failures = failuresOf(settled);
  return {
    settled: { days, failures, failuresLeftOut: failuresOf(cells) - failures },
    model: settledLaw(cells, likes, days),
    plot: weibullPlot(countCells(settled, "confirmed")),
    rate: monthlyRate(settled),
  };
}

/** The law of the lives as they were so many days ago; with too few failures of their own, with the shape of their likes. */
export function settledLaw(cells: readonly LifeCell[], likes: readonly LifeCell[], settledDays: number): LifeModel {
  return lifeModel(cutBack(cells, settledDays), cutBack(likes, settledDays));
}

function failuresOf(cells: readonly LifeCell[]): number {
  return sumPacks(cells.filter(({ status }) => status === "failed"));
}

/**
 * Each fault's own share at one age: together they add up to the curve there. The age is the oldest milestone at which enough
 * packs are at risk, else the oldest that a pack has reached. A share is doubted by the limits that the curve itself has.
 */
function faultShares(cells: readonly LifeCell[]): FaultShare[] {
  const curve = kaplanMeier(countCells(cells, "confirmed"));
  const at = milestoneForFaults(curve);
  const tally = new CauseTally();
  for (const { entryDays, exitDays, status, detail, packs } of cells) {
    tally.add(entryDays, exitDays, status === "failed" ? (detail ?? "unknown") : null, packs);
  }
  const ofAll = at.kind === "cannot-tell" && at.reason !== "few-failures" ? at.reason : null;
  return cumulativeIncidence(tally.counts())
    .flatMap(({ cause, steps }): FaultShare[] => {
      const reached = steps.filter(({ age }) => age <= at.ageDays);
      const last = reached.at(-1);
      if (last === undefined) return [];
      const { incidence, standardError, lower, upper } = last;
      const isFew = standardError > LARGEST_RELATIVE_STANDARD_ERROR * incidence;
      return [
        {
          fault: cause,
          failures: reached.reduce((sum, step) => sum + step.failures, 0),
          share: incidence,
          lower,
          upper,
          months: at.months,
          ageDays: at.ageDays,
          atRisk: at.atRisk,
          doubt: ofAll ?? (isFew ? "few-failures" : null),
        },
      ];
    })
    .sort((a, b) => b.share - a.share);
}

function milestoneForFaults(curve: KaplanMeierCurve): FailureEstimate {
  const all = MILESTONE_MONTHS.map((months) => failureEstimate(curve, months));
  const first = failureEstimate(curve, MILESTONE_MONTHS[0]);
  return all.findLast(({ atRisk }) => atRisk >= FEWEST_AT_RISK) ?? all.findLast(({ atRisk }) => atRisk > 0) ?? first;
}

function lifeModel(cells: readonly LifeCell[], likes: readonly LifeCell[]): LifeModel {
  const counts = countCells(cells, "confirmed");
  const { failures, preferred } = preferredFit(counts);
  if ("refused" in preferred) {
    return preferred.refused === "too-few-failures"
      ? withShapeOfLikes(counts, likes)
      : { kind: "refused", sentence: weibullRefusal(preferred.because) };
  }
  const { plain: fit, part } = preferred;
  if (part !== null)
    return { kind: "part-can-fail", failures, fit: part, limits: defectiveFractionLimits(counts, part) };
  const limits = weibullLimits(fit);
  if (limits === null) return { kind: "refused", sentence: weibullRefusal("limits-unbounded") };
  return { kind: "weibull", failures, shape: fit.shape, scale: fit.scale, limits };
}

function withShapeOfLikes(counts: Parameters<typeof weibayes>[0], likes: readonly LifeCell[]): LifeModel {
  const shape = lendersLaw(countCellsApart(likes, "confirmed"));
  if (shape === null) {
    const sentence =
      "It has too few failures for a law of its own, and the others of its model have too few to lend it theirs.";
    return { kind: "refused", sentence };
  }
  const fit = weibayes(counts, shape.shape);
  if ("kind" in fit) return { kind: "refused", sentence: "No pack of it has been watched in use." };
  const { limits } = shape;
  const atItsLimits = (limits === null ? [] : [limits.lower, limits.upper]).flatMap((b) => {
    const other = weibayes(counts, b);
    return "kind" in other ? [] : [other];
  });
  return {
    kind: "assumed-shape",
    fit,
    shapeFrom: `the ${shape.failures} failures of the others of its model`,
    atItsLimits,
  };
}

function monthlyRate(cells: readonly LifeCell[]): RateEstimate | null {
  let days = 0;
  let failures = 0;
  for (const { entryDays, exitDays, status, packs } of cells) {
    days += (exitDays - entryDays) * packs;
    if (status === "failed") failures += packs;
  }
  const thousandMonths = days / DAYS_PER_MONTH / 1000;
  return thousandMonths > 0 ? poissonRate(failures, thousandMonths) : null;
}
