import { countQuantile } from "@/lib/stats/binomial-mixture";
import { valuesOf } from "./count-distribution";
import { type CoverBasis, type NoLaw, packsRunning } from "./cover-basis";
import { countsAhead, cutAtOldest, drawnAhead, hiddenSums, spanSums, type TimeBeyond } from "./cover-spans";

export type ReserveRefusal = NoLaw | "fit-too-uncertain";

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
  const ending = running.flatMap(({ ageDays, coverLeftDays, packs: units }) =>
    coverLeftDays === null ? [] : [{ from: ageDays, to: ageDays + Math.max(0, coverLeftDays), units }],
  );
  const { seen, beyond } = cutAtOldest(ending, law.largestAge);
  const unreported = hiddenSums(hidden, valuesOf(law)).sum;
  const expected = spanSums(seen, valuesOf(law)).sum + unreported;
  const distribution = countsAhead(law, running, seen, hidden);
  if (distribution === null) return { kind: "refused", reason: "fit-too-uncertain" };
  return {
    kind: "reserve",
    expected,
    unreported,
    lower: countQuantile(distribution, 0.025),
    upper: countQuantile(distribution, 0.975),
    distribution,
    ...drawnAhead(law, running, seen, hidden),
    beyond,
    packsWithoutEnd: packsRunning(running.filter(({ coverLeftDays }) => coverLeftDays === null)),
  };
}
