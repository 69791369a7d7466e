import { fitWeibull, type WeibullFit } from "@/lib/stats/weibull-fit";
import type { Reporting } from "./early-signals";
import { type FittedLaw, fittedLaw } from "./failure-forecast";
import { cutBack, type HiddenDay, hiddenDays } from "./hidden-exposure";
import { countCells, type LifeCell } from "./life-cell";

/** With fewer failures no law is fitted for a forecast. IEC 61649 (2008) for the method; number from memory. */
export const FEWEST_FOR_FORECAST = 5;

/** So many packs of one group that run under cover, with the same age and the same time until the cover ends. */
export interface RunningCell {
  readonly ageDays: number;
  /** Null where no end of cover is known: the cover does not end it. */
  readonly coverLeftDays: number | null;
  readonly packs: number;
}

export interface CoverLaw extends FittedLaw {
  /** Oldest age the law was seen at. */
  readonly largestAge: number;
}

export type LawRefusal = "nothing-running" | "too-few-failures" | "no-law";

/** All that the failures to come of one group are foretold from; plain numbers, so that it can be kept and used again. */
export interface CoverBasis {
  /** Failures the law rests on. */
  readonly failures: number;
  readonly law: CoverLaw | { readonly refused: LawRefusal };
  readonly running: readonly RunningCell[];
  readonly hidden: readonly HiddenDay[];
}

/**
 * The law of a group fitted to its lives cut back by the lag within which 95 of 100 failures are confirmed, so that young packs
 * do not look good, with the packs it is to be applied to and the days of which not everything is known.
 */
export function coverBasis(
  cells: readonly LifeCell[],
  running: readonly RunningCell[],
  reporting: Reporting,
  lagMostDays: number,
): CoverBasis {
  const fit = fitWeibull(countCells(cutBack(cells, lagMostDays), "confirmed"));
  const law = packsRunning(running) === 0 ? ({ refused: "nothing-running" } as const) : lawOf(fit);
  return { failures: fit.kind === "fit" ? fit.failures : 0, law, running, hidden: hiddenDays(cells, reporting) };
}

export function packsRunning(running: readonly RunningCell[]): number {
  return running.reduce((sum, { packs }) => sum + packs, 0);
}

function lawOf(fit: ReturnType<typeof fitWeibull>): CoverBasis["law"] {
  if (fit.kind === "refused") {
    const isFew = fit.reason === "no-failures" || fit.reason === "one-failure";
    return { refused: isFew ? "too-few-failures" : "no-law" };
  }
  if (fit.failures < FEWEST_FOR_FORECAST) return { refused: "too-few-failures" };
  return lawWithDoubt(fit);
}

function lawWithDoubt(fit: WeibullFit): CoverLaw {
  return { ...fittedLaw(fit), largestAge: fit.likelihood.largestAge };
}
