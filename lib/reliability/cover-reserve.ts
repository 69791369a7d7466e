import { countQuantile } from "@/lib/stats/binomial-mixture";
import { valuesOf } from "./count-distribution";
import { type CoverBasis, type NoLaw, packsRunning } from "./cover-basis";
import { countsAhead, cutAtOldest, drawnAhead, hiddenSums, spanSums, type TimeBeyond } from "./cover-spans";
import type { FailureLaw } from "./failure-law";
import { DAYS_PER_MONTH } from "./months-in-service";
import type { Span } from "./pack-span";
import { isWorthTelling } from "./worth-telling";

export type ReserveRefusal = NoLaw | "fit-too-uncertain" | "too-few-watched";

export type CoverReserve =
  | {
      readonly kind: "reserve";
      /** Failures to come until the end of cover at ages that packs have been seen at, and those on their way to us. */
      readonly expected: number;
      readonly unreported: number;
      readonly lower: number;
      readonly upper: number;
      /** Probability of each number of failures, from 0. */
      readonly distribution: Float64Array;
      /** Of a lent law: the same drawn towards the likes throughout, for lower limits of sums. */
      readonly drawn?: Float64Array;
      readonly beyond: TimeBeyond;
      /** Time under cover ahead at ages seen: that of which the number is. */
      readonly seenPackMonths: number;
      /** Packs whose cover has no known end: nothing of them is in the reserve. */
      readonly packsWithoutEnd: number;
    }
  | { readonly kind: "refused"; readonly reason: ReserveRefusal };

/**
 * Answers: how many failures are still to come of the packs sold to date until their cover ends?
 *
 * As the forecast, but with the end of each pack's own cover for the horizon. A pack is followed only up to the oldest age
 * the law was seen at: what lies beyond is not extrapolated but told as time (packs, pack-months) of which nothing is known.
 */
export function coverReserve({ law, running, hidden }: CoverBasis): CoverReserve {
  if ("refused" in law) return { kind: "refused", reason: law.refused };
  const { seen, beyond, expected, unreported } = reserveAhead(law, { running, hidden });
  const distribution = countsAhead(law, running, seen, hidden);
  if (distribution === null) return { kind: "refused", reason: "fit-too-uncertain" };
  const [lower, upper] = [countQuantile(distribution, 0.025), countQuantile(distribution, 0.975)];
  if (law.lent && !isWorthTelling({ expected, upper })) return { kind: "refused", reason: "too-few-watched" };
  return {
    kind: "reserve",
    ...{ expected, unreported, lower, upper },
    distribution,
    ...drawnAhead(law, running, seen, hidden),
    beyond,
    seenPackMonths: packMonthsOf(seen),
    packsWithoutEnd: packsRunning(running.filter(({ coverLeftDays }) => coverLeftDays === null)),
  };
}

/** Time under cover that packs in use have ahead of them, at whatever age; without those whose cover has no known end. */
export function packMonthsAhead({ running }: Pick<CoverBasis, "running">): number {
  return packMonthsOf(endingSpans(running));
}

function packMonthsOf(spans: readonly Span[]): number {
  return spans.reduce((sum, { from, to, units }) => sum + units * (to - from), 0) / DAYS_PER_MONTH;
}

function endingSpans(running: CoverBasis["running"]): Span[] {
  return running.flatMap(({ ageDays, coverLeftDays, packs: units }) =>
    coverLeftDays === null ? [] : [{ from: ageDays, to: ageDays + Math.max(0, coverLeftDays), units }],
  );
}

/** Time ahead until the ends of cover, that part of it at ages seen, and the failures expected in it, without limits. */
export function reserveAhead(law: FailureLaw, { running, hidden }: Pick<CoverBasis, "running" | "hidden">) {
  const { seen, beyond } = cutAtOldest(endingSpans(running), law.largestAge);
  const unreported = hiddenSums(hidden, valuesOf(law)).sum;
  return { seen, beyond, unreported, expected: spanSums(seen, valuesOf(law)).sum + unreported };
}
