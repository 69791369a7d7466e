import type { CoverBasis } from "./cover-basis";
import { type ForetoldFailures, foretell, MOST_BEYOND_OBSERVED } from "./cover-forecast";
import { coverReserve } from "./cover-reserve";

/** Where what came lies against the limits of what was foretold. */
export type Verdict = "inside" | "above" | "below" | "open";

/** What happened since to the packs a forecast was about. */
export interface Arisen {
  /** Confirmed failures that reached us since. */
  readonly confirmed: number;
  /** Returns that reached us since and are not decided. */
  readonly undecided: number;
}

export interface RollForwardQuestion {
  /** What the forecast kept rested on. */
  readonly opening: CoverBasis;
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
  readonly soldSince: number;
  readonly closing: number;
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
  /** Null where nothing was foretold then, or nothing can be now. */
  readonly failures: ReserveSteps | null;
  /** 95 % limits of the opening and of the closing number of failures; null with `failures`. */
  readonly limits: { readonly opening: Limits; readonly closing: Limits } | null;
  readonly cost: ReserveSteps | null;
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
 * Opening - arisen + change of number + change of cost + sold since = closing, exactly. What had not been reported at the
 * closing is counted to the packs sold by the opening.
 */
export function rollForward(question: RollForwardQuestion): RollForward {
  const { opening, closing, soldSince, arisen, openingMean, closingMean } = question;
  const days = Math.max(0, question.days - question.meanLagDays);
  const period = foretoldIn(opening, days);
  const returns = returnsSince(question, days);
  const before = coverReserve(opening);
  const after = coverReserve(closing);
  const ofNew = coverReserve({ ...closing, running: soldSince, hidden: [] });
  const verdict = period === null ? null : verdictOn(arisen, period);
  if (before.kind === "refused" || after.kind === "refused")
    return { arisen, period, verdict, returns, failures: null, limits: null, cost: null };
  const numbers = {
    opening: before.expected,
    closing: after.expected,
    soldSince: ofNew.kind === "reserve" ? ofNew.expected : 0,
    arisen: arisen.confirmed,
  };
  const cost = openingMean === null || closingMean === null ? null : steps(numbers, openingMean, closingMean);
  const limits = { opening: limitsOf(before), closing: limitsOf(after) };
  return { arisen, period, verdict, returns, failures: steps(numbers, 1, 1), limits, cost };
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

function limitsOf({ lower, upper }: Limits): Limits {
  return { lower, upper };
}

function steps(
  { opening, closing, soldSince, arisen }: Record<"opening" | "closing" | "soldSince" | "arisen", number>,
  meanThen: number,
  meanNow: number,
): ReserveSteps {
  const ofOld = closing - soldSince;
  return {
    opening: opening * meanThen,
    arisen: arisen * meanThen,
    changeOfNumber: (ofOld - (opening - arisen)) * meanThen,
    changeOfCost: ofOld * (meanNow - meanThen),
    soldSince: soldSince * meanNow,
    closing: closing * meanNow,
  };
}

/** Undecided returns may be failures or not: the verdict is given only where it would be the same either way. */
export function verdictOn({ confirmed, undecided }: Arisen, { lower, upper }: Limits): Verdict {
  if (confirmed > upper) return "above";
  if (confirmed + undecided < lower) return "below";
  return confirmed >= lower && confirmed + undecided <= upper ? "inside" : "open";
}
