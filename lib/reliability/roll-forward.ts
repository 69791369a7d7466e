import type { CoverBasis } from "./cover-basis";
import { type ForetoldFailures, foretell, MOST_BEYOND_OBSERVED } from "./cover-forecast";
import { coverReserve, reserveAhead } from "./cover-reserve";

/** Where what came lies against the limits of what was foretold. */
export type Verdict = "inside" | "above" | "below" | "open";

export interface ToldAt {
  readonly opening: boolean;
  readonly closing: boolean;
}

/** What happened since to the packs a forecast was about. */
export interface Arisen {
  /** Confirmed failures that reached us since. */
  readonly confirmed: number;
  /** Returns that reached us since and are not decided. */
  readonly undecided: number;
}

export interface RollForwardQuestion {
  /** What the forecast kept rested on; null for a revision that there was not yet, of which nothing was to come. */
  readonly opening: CoverBasis | null;
  /** Mean cost of one failure then and now, in the smallest unit of one currency; null where it was, or is, unknown. */
  readonly openingMean: number | null;
  readonly closingMean: number | null;
  /** What a forecast of today rests on, and the part of it on packs sold since. */
  readonly closing: CoverBasis;
  readonly soldSince: CoverBasis["running"];
  readonly arisen: Arisen;
  /** What first returns were foretold from, null where that was not kept, and packs that came back for the first time since. */
  readonly openingReturns?: CoverBasis | null;
  readonly cameBack?: number;
  /** Days from the data date then to today, and by how many of them a return is late on average. */
  readonly days: number;
  readonly meanLagDays: number;
}

/** A reserve from its opening to its closing. In failures, or in the smallest unit of a currency. */
export interface ReserveSteps {
  readonly opening: number;
  readonly arisen: number;
  /** More (or less) failures to come than opening less arisen, of the packs sold by then. */
  readonly changeOfNumber: number;
  /** The same number at another cost of one; 0 in failures. */
  readonly changeOfCost: number;
  /** What could not be told at the opening and can be now, or the other way about. */
  readonly changeOfTelling: number;
  readonly soldSince: number;
  readonly closing: number;
}

/** Limits at both ends; null at an end at which nothing can be told, or nothing was there. */
export interface BothLimits {
  readonly opening: Limits | null;
  readonly closing: Limits | null;
}

export interface Limits {
  readonly lower: number;
  readonly upper: number;
}

export interface RollForward {
  readonly arisen: Arisen;
  /** What was to be expected to reach us in the period, with the limits the kept forecast gives; null where it gave none. */
  readonly period: ForetoldFailures | null;
  readonly verdict: Verdict | null;
  /** Null where nothing could be told then and nothing can be now. */
  readonly failures: ReserveSteps | null;
  /** 95 % limits of the opening and of the closing number of failures. */
  readonly limits: BothLimits;
  readonly cost: ReserveSteps | null;
  /** Of number and cost: whether each could be told then, and can be now. */
  readonly told: { readonly failures: ToldAt; readonly cost: ToldAt };
  /** First returns, whatever came of them, against what was foretold; null where the kept forecast held none. */
  readonly returns: {
    readonly came: number;
    readonly period: ForetoldFailures | null;
    readonly verdict: Verdict | null;
  } | null;
}

/**
 * Answers: how did the reserve kept on a day become that of today, and did what came lie within what was foretold?
 *
 * Of a period's failures those of the last days have not reached us. The period is therefore counted shorter by the mean
 * reporting lag: over a time in which the hazard hardly changes that is the same as weighting each day by the share known of it.
 * What came is held against the law carried on to ages seen only since, where most of it lies at ages seen then.
 * Opening - arisen + change of number + change of cost + change of telling + sold since = closing, exactly, so that openings add up to
 * the reserve kept and closings to that of today. Where one end cannot be told, all of the other is a change of telling. What had not been reported at the
 * closing is counted to the packs sold by the opening.
 */
export function rollForward(question: RollForwardQuestion): RollForward {
  const { opening, closing, soldSince, arisen, closingMean } = question;
  const days = Math.max(0, question.days - question.meanLagDays);
  const period = opening === null ? null : foretoldIn(opening, days);
  const returns = returnsSince(question, days);
  const before = opening === null ? null : toldReserve(opening);
  const after = toldReserve(closing);
  const numbers = {
    // Of a revision that there was not, nothing was to come.
    opening: opening === null ? 0 : (before?.expected ?? null),
    closing: after?.expected ?? null,
    // A part of a reserve that is told, so it needs no limits of its own.
    soldSince: "refused" in closing.law ? 0 : reserveAhead(closing.law, { running: soldSince, hidden: [] }).expected,
    arisen: arisen.confirmed,
  };
  const meanThen = opening === null ? closingMean : question.openingMean;
  return {
    ...{ arisen, period, returns },
    verdict: period === null ? null : verdictOn(arisen, period),
    failures: steps(numbers, 1, 1),
    limits: { opening: limitsOf(before), closing: limitsOf(after) },
    cost: steps(numbers, meanThen, closingMean),
    told: { failures: toldAt(numbers, 1, 1), cost: toldAt(numbers, meanThen, closingMean) },
  };
}

function toldReserve(basis: CoverBasis) {
  const reserve = coverReserve(basis);
  return reserve.kind === "reserve" ? reserve : null;
}

function foretoldIn(basis: CoverBasis, days: number): ForetoldFailures | null {
  const foretold = foretell(basis, days, MOST_BEYOND_OBSERVED);
  return foretold.kind === "forecast" ? foretold : null;
}

function returnsSince({ openingReturns, cameBack = 0 }: RollForwardQuestion, days: number): RollForward["returns"] {
  if (openingReturns == null) return null;
  const period = foretoldIn(openingReturns, days);
  const verdict = period === null ? null : verdictOn({ confirmed: cameBack, undecided: 0 }, period);
  return { came: cameBack, period, verdict };
}

function limitsOf(of: Limits | null): Limits | null {
  return of === null ? null : { lower: of.lower, upper: of.upper };
}

interface Numbers {
  readonly opening: number | null;
  readonly closing: number | null;
  readonly soldSince: number;
  readonly arisen: number;
}

function toldAt({ opening, closing }: Numbers, meanThen: number | null, meanNow: number | null): ToldAt {
  return { opening: opening !== null && meanThen !== null, closing: closing !== null && meanNow !== null };
}

function steps(
  { opening, closing, soldSince, arisen }: Numbers,
  meanThen: number | null,
  meanNow: number | null,
): ReserveSteps | null {
  const then = opening === null || meanThen === null ? null : { opening, mean: meanThen };
  const now = closing === null || meanNow === null ? null : { closing, mean: meanNow, ofOld: closing - soldSince };
  if (then === null && now === null) return null;
  const both = then !== null && now !== null ? { then, now } : null;
  const openingNow = then === null ? 0 : then.opening * then.mean;
  const arisenNow = then === null ? 0 : arisen * then.mean;
  return {
    opening: openingNow,
    arisen: arisenNow,
    changeOfNumber: both === null ? 0 : (both.now.ofOld - (both.then.opening - arisen)) * both.then.mean,
    changeOfCost: both === null ? 0 : both.now.ofOld * (both.now.mean - both.then.mean),
    changeOfTelling: both === null ? (now === null ? arisenNow - openingNow : now.ofOld * now.mean) : 0,
    soldSince: now === null ? 0 : soldSince * now.mean,
    closing: now === null ? 0 : now.closing * now.mean,
  };
}

/** Undecided returns may be failures or not: the verdict is given only where it would be the same either way. */
export function verdictOn({ confirmed, undecided }: Arisen, { lower, upper }: Limits): Verdict {
  if (confirmed > upper) return "above";
  if (confirmed + undecided < lower) return "below";
  return confirmed >= lower && confirmed + undecided <= upper ? "inside" : "open";
}
