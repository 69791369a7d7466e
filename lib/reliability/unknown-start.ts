import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { LifeTally } from "@/lib/stats/life-tally";
import {
  countLags,
  lagQuantile,
  reverseProductLimit,
  shareKnownAfter,
  type TruncatedLag,
} from "@/lib/stats/reverse-product-limit";
import { type FailureEstimate, failureEstimate } from "./failure-estimate";
import type { LifeCell } from "./life-cell";
import { MILESTONE_MONTHS } from "./months-in-service";
import { inHundred } from "./plain-share";

/** So many dispatched packs of which no day of sale is known, in days since their dispatch. */
export interface UndatedPacks {
  readonly sinceDispatch: number;
  /** When a confirmed failure of it was told; null where there is none. */
  readonly failedAfter: number | null;
  readonly packs: number;
}

export type StartReading = "left-out" | "since-dispatch" | "after-usual-delay" | "failed-when-new";

export interface ReadStart {
  readonly reading: StartReading;
  readonly packs: number;
  readonly failures: number;
  readonly estimates: readonly FailureEstimate[];
}

export interface UnknownStarts {
  /** Packs concerned, and of them those that came back with a confirmed failure. */
  readonly packs: number;
  readonly failures: number;
  /** Days from dispatch to sale of the packs whose sale is known; null for fewer than 20 of them. */
  readonly delay: { readonly medianDays: number; readonly mostDays: number; readonly packs: number } | null;
  readonly readings: readonly ReadStart[];
}

/** With fewer known delays no distribution is worth using. Engineering default, no authority. */
const FEWEST_DELAYS = 20;

/**
 * Answers: how far could packs without a known day of sale move the shares failed?
 *
 * Readings beside each other: such packs left out; all of them in use since their dispatch, the longest lives they can have
 * had; those that failed sold the day before, and the others still on a shelf, the shortest lives; and in use since a sale as long after dispatch as of dated packs. That delay is estimated by the reverse
 * product limit, since of packs dispatched lately only the quickly sold ones have a date yet, and is dealt out to the
 * undated packs by its quantiles, not by chance: packs that would not be sold yet are on a shelf. Packs that came back are
 * dealt the delays that let them be sold before. Their cover is not ended, since its start is not known. Null where every dispatched pack has a date.
 */
export function unknownStarts(
  dated: readonly LifeCell[],
  undated: readonly UndatedPacks[],
  delays: readonly TruncatedLag[],
): UnknownStarts | null {
  const concerned = undated.filter(({ sinceDispatch }) => sinceDispatch > 0);
  if (concerned.length === 0) return null;
  const known = countLags(delays);
  const distribution = known < FEWEST_DELAYS ? null : reverseProductLimit(delays);
  const medianDays = distribution && lagQuantile(distribution, 0.5);
  const mostDays = distribution && lagQuantile(distribution, 0.95);
  const sinceDispatch = concerned.map(({ sinceDispatch: age, failedAfter, packs }) => ({ age, failedAfter, packs }));
  const afterDelay =
    distribution === null
      ? []
      : concerned.flatMap(({ sinceDispatch: since, failedAfter, packs }) => {
          const last = failedAfter ?? since;
          const before = failedAfter === null ? 1 : (shareKnownAfter(distribution, last - 1)?.share ?? 0);
          return Array.from({ length: packs }, (_, i) => {
            const delay = lagQuantile(distribution, ((i + 0.5) / packs) * before) ?? 0;
            return {
              age: since - delay,
              failedAfter: failedAfter === null ? null : Math.max(1, failedAfter - delay),
              packs: 1,
            };
          });
        });
  // Whoever failed was sold the day before; of the others nobody has been in use.
  const whenNew = sinceDispatch.map((one) => ({ ...one, age: 0, failedAfter: one.failedAfter === null ? null : 1 }));
  return {
    packs: concerned.reduce((sum, { packs }) => sum + packs, 0),
    failures: concerned.reduce((sum, { failedAfter, packs }) => sum + (failedAfter === null ? 0 : packs), 0),
    delay: medianDays === null || mostDays === null ? null : { medianDays, mostDays, packs: known },
    readings: [
      readingOf("left-out", dated, []),
      readingOf("since-dispatch", dated, sinceDispatch),
      readingOf("failed-when-new", dated, whenNew),
      ...(distribution === null ? [] : [readingOf("after-usual-delay", dated, afterDelay)]),
    ],
  };
}

interface Guessed {
  readonly age: number;
  readonly failedAfter: number | null;
  readonly packs: number;
}

function readingOf(reading: StartReading, dated: readonly LifeCell[], guessed: readonly Guessed[]): ReadStart {
  const tally = new LifeTally();
  let [packs, failures] = [0, 0];
  const add = (entry: number, exit: number, failed: boolean, count: number) => {
    tally.add(entry, exit, failed, count);
    packs += count;
    failures += failed ? count : 0;
  };
  for (const { line, entryDays, exitDays, status, packs: count } of dated)
    if (line === "confirmed") add(entryDays, exitDays, status === "failed", count);
  for (const { age, failedAfter, packs: count } of guessed) {
    if (failedAfter !== null) add(0, Math.max(1, failedAfter), true, count);
    else if (age > 0) add(0, age, false, count);
  }
  const curve = kaplanMeier(tally.counts());
  return { reading, packs, failures, estimates: MILESTONE_MONTHS.map((months) => failureEstimate(curve, months)) };
}

export const startReadingWords: Readonly<Record<StartReading, string>> = {
  "left-out": "Left out, as above",
  "since-dispatch": "In use since their dispatch",
  "failed-when-new": "Sold the day before they failed, else never",
  "after-usual-delay": "In use after the usual time on the shelf",
};

/** The lowest and the highest share failed by an age that any reading gives, single limits left aside. */
export interface StartBounds {
  readonly months: number;
  readonly lowest: number;
  readonly highest: number;
}

/** For each milestone at which every reading can be told; the order of months is kept. */
export function startBounds({ readings }: Pick<UnknownStarts, "readings">): StartBounds[] {
  return MILESTONE_MONTHS.flatMap((months) => {
    const shares = readings.flatMap(({ estimates }) => {
      const at = estimates.find((estimate) => estimate.months === months);
      return at?.kind === "estimate" ? [at.probability] : [];
    });
    if (shares.length < readings.length) return [];
    return [{ months, lowest: Math.min(...shares), highest: Math.max(...shares) }];
  });
}

export function unknownStartsSentence(starts: UnknownStarts): string {
  const { packs, failures, delay } = starts;
  const at = startBounds(starts).at(-1);
  const bounds =
    at === undefined
      ? "At no age can the share failed be told under every reading yet."
      : `By ${at.months} months the lowest of the readings is ${inHundred(at.lowest)} failed and the highest ${inHundred(at.highest)}.`;
  const who = `${packs === 1 ? "1 dispatched pack has" : `${packs} dispatched packs have`} no known day of sale; ${failures === 0 ? "none of them came" : failures === 1 ? "1 of them came" : `${failures} of them came`} back with a confirmed failure.`;
  const shelf =
    delay === null
      ? " How long packs lie on the shelf cannot be told yet from so few dated ones."
      : ` Half of the dated packs were sold within ${delay.medianDays} days of dispatch, 95 of 100 within ${delay.mostDays} (from ${delay.packs} packs, those not sold yet allowed for).`;
  return `${who}${shelf} The readings show how far that could move the shares; none of them is known to be right. ${bounds}`;
}
