import { gammaQuantile } from "@/lib/stats/incomplete-gamma";
import type { LifeCount } from "@/lib/stats/life-counts";
import { poissonDensity } from "@/lib/stats/poisson-density";
import { foldCounts } from "./fold-counts";
import type { HiddenDay } from "./hidden-exposure";
import type { Span } from "./pack-span";

/** The doubt about a rate is taken at so many of its quantiles, evenly spread. More of them move no limit in the tests. */
const QUANTILES = 400;
/** Counts further than this many standard deviations from their mean have no probability worth adding. */
const DEVIATIONS = 10;

/** Ages at which hardly any unit failed, and for how long units were watched there: units times the unit of the ages. */
export interface QuietAges {
  readonly from: number;
  /** Null: without end. */
  readonly to: number | null;
  readonly failures: number;
  readonly exposure: number;
}

/** The quiet ages before the first failure, and those after the part that can fail has failed; null where there are none. */
export interface QuietSpells {
  readonly before: QuietAges | null;
  readonly after: QuietAges | null;
}

/**
 * Answers: at which ages says a law next to nothing fails, and how long was that watched? After the last failure, or after an
 * earlier one where that bounds the rate more closely (a single late failure would leave hardly any time). Domain: some failure.
 */
export function quietSpells(counts: readonly LifeCount[], onlyAPart: boolean): QuietSpells {
  const failed = counts.filter((count) => count.failed > 0);
  const first = failed[0]?.age ?? 0;
  const before = { from: 0, to: first, failures: 0, exposure: exposureAfter(counts, 0) - exposureAfter(counts, first) };
  let [after, failures]: [QuietAges | null, number] = [null, 0];
  for (const { age, failed: here } of onlyAPart ? failed.toReversed() : []) {
    const exposure = exposureAfter(counts, age);
    if (exposure > 0 && (after === null || boundOf({ failures, exposure }) < boundOf(after)))
      after = { from: age, to: null, failures, exposure };
    failures += here;
  }
  return { before: before.exposure > 0 ? before : null, after };
}

function boundOf({ failures, exposure }: Pick<QuietAges, "failures" | "exposure">): number {
  return (failures + 1) / exposure;
}

function exposureAfter(counts: readonly LifeCount[], from: number): number {
  return counts.reduce(
    (sum, { age, entered, failed, censored }) => sum + Math.max(0, age - from) * (failed + censored - entered),
    0,
  );
}

/**
 * A number of failures by a law, with the doubt whether others fail at ages the law says next to nothing fails at: after a part
 * of the units has failed, or, where all of the time ahead lies there, before the first failure. None seen in so much time
 * does not exclude a few in as much more.
 *
 * The rate is 0 up to its median, and beyond it has the quantiles that are Garwood's exact upper limits: so it widens the limits upwards
 * alone, and a count of 0 in equal time gets the upper limit 5. Both distributions begin at 0 failures.
 * Source: Garwood, Biometrika 28 (1936) 437-442; Nelson, Applied Life Data Analysis (1982), section 6.5 (from memory), for a count from a count.
 */
export function withQuietAges(
  byLaw: Float64Array,
  quiet: QuietSpells | null | undefined,
  ahead: { readonly spans: readonly Span[]; readonly hidden: readonly HiddenDay[]; readonly mostFailures: number },
): Float64Array {
  const days = ahead.hidden.map(({ ageDays, packs }) => ({
    from: Math.max(0, ageDays - 1),
    to: ageDays,
    units: packs,
  }));
  const spans = [...ahead.spans, ...days];
  const [before, after] = [timeAt(spans, quiet?.before), timeAt(spans, quiet?.after)];
  const isAllBefore = before > 0 && before >= timeAt(spans, { from: 0, to: null }) * (1 - 1e-9);
  const others: Float64Array[] = [];
  if (quiet?.before && isAllBefore) others.push(othersCount(quiet.before, before, ahead.mostFailures));
  if (quiet?.after && after > 0) others.push(othersCount(quiet.after, after, ahead.mostFailures));
  if (others.length === 0) return byLaw;
  const { from, shares } = foldCounts([byLaw, ...others]);
  const sum = new Float64Array(ahead.mostFailures + 1);
  for (const [i, share] of shares.entries()) {
    const count = Math.min(ahead.mostFailures, from + i);
    sum[count] = (sum[count] ?? 0) + share;
  }
  return sum;
}

function timeAt(spans: readonly Span[], ages: Pick<QuietAges, "from" | "to"> | null | undefined): number {
  if (ages == null) return 0;
  const end = ages.to ?? Number.POSITIVE_INFINITY;
  return spans.reduce(
    (sum, { from, to, units }) => sum + units * Math.max(0, Math.min(to, end) - Math.max(from, ages.from)),
    0,
  );
}

/** Probability of each number of failures in so much time at a rate known from quiet ages, from 0. */
function othersCount({ failures, exposure }: QuietAges, time: number, most: number): Float64Array {
  const count = new Float64Array(most + 1);
  count[0] = 0.5;
  for (let i = QUANTILES / 2; i < QUANTILES; i++) {
    const mean = Math.min(most, (time / exposure) * gammaQuantile(failures + 1, (i + 0.5) / QUANTILES));
    const reach = DEVIATIONS * (Math.sqrt(mean) + 1);
    const last = Math.min(most, Math.ceil(mean + reach));
    for (let k = Math.max(0, Math.floor(mean - reach)); k <= last; k++)
      count[k] = (count[k] ?? 0) + poissonDensity(k, mean) / QUANTILES;
  }
  return count;
}
