import { chanceOfFailing, hazardOfStep, type PartWeibull } from "@/lib/stats/part-weibull";
import { countDistribution, valuesOf } from "./count-distribution";
import { packsRunning, type RunningCell } from "./cover-basis";
import type { FailureLaw } from "./failure-law";
import type { HiddenDay } from "./hidden-exposure";
import { DAYS_PER_MONTH } from "./months-in-service";
import type { Span } from "./pack-span";
import { withQuietAges } from "./quiet-ages";

/** Packs are put in so many classes of age for the limits; the expected number itself is summed exactly. */
const AGE_CLASSES = 60;

/** Time at ages no pack of the group has been watched at. */
export interface TimeBeyond {
  readonly packs: number;
  readonly packMonths: number;
}

/** The part of spans up to the oldest age seen, and what lies beyond it as packs and time: of that nothing is known. */
export function cutAtOldest(spans: readonly Span[], largestAge: number): { seen: Span[]; beyond: TimeBeyond } {
  const seen = spans.flatMap((span) =>
    span.from < largestAge ? [{ ...span, to: Math.min(span.to, largestAge) }] : [],
  );
  const passing = spans.filter(({ from, to }) => to > largestAge && to > from);
  const days = passing.reduce((sum, { from, to, units }) => sum + units * (to - Math.max(from, largestAge)), 0);
  const packs = passing.reduce((sum, { units }) => sum + units, 0);
  return { seen, beyond: { packs, packMonths: days / DAYS_PER_MONTH } };
}

/**
 * Failures to expect while packs go from age to age, given that they run at the first: sum of [F(to) - F(from)] / [1 - F(from)],
 * and of its square.
 */
export function spanSums(spans: readonly Span[], { share, shape, scale }: PartWeibull) {
  let [sum, sumOfSquares] = [0, 0];
  for (const { from, to, units } of spans) {
    const probability = chanceOfFailing(share, (from / scale) ** shape, (Math.max(from, to) / scale) ** shape);
    sum += units * probability;
    sumOfSquares += units * probability * probability;
  }
  return { sum, sumOfSquares };
}

/** Failures to expect on days that are over and of which not everything has reached us. */
export function hiddenSums(hidden: readonly HiddenDay[], { share, shape, scale }: PartWeibull) {
  let [sum, sumOfSquares] = [0, 0];
  for (const { ageDays, packs } of hidden) {
    const hazard = hazardOfStep(share, (Math.max(0, ageDays - 1) / scale) ** shape, (ageDays / scale) ** shape);
    sum += packs * hazard;
    sumOfSquares += packs * hazard * hazard;
  }
  return { sum, sumOfSquares };
}

/**
 * Probability of each number of failures over the spans and the hidden days together, chance and doubt in it: about the law, and
 * whether others fail where it says next to nothing does. Null where the law has no usable doubt.
 */
export function countsAhead(
  law: FailureLaw,
  running: readonly RunningCell[],
  spans: readonly Span[],
  hidden: readonly HiddenDay[],
): Float64Array | null {
  const values = valuesOf(law);
  const expected = spanSums(spans, values).sum + hiddenSums(hidden, values).sum;
  const byLaw = expected > 0 ? spanDistribution(law, running, spans, hidden) : Float64Array.of(1);
  return byLaw && withQuietAges(byLaw, law.quiet, { spans, hidden, mostFailures: packsRunning(running) });
}

/** Of a law that is lent the same without what widens it upwards alone: lower limits of sums over groups rest on it; undefined of any other. */
export function drawnAhead(law: FailureLaw, ...ahead: AheadOfLaw): { readonly drawn?: Float64Array } {
  if (!law.lent) return {};
  const points = law.lent.points.map(({ shape, weight, exposure }) => ({ shape, weight, exposure }));
  const drawn = countsAhead({ ...law, lent: { ...law.lent, points } }, ...ahead);
  return drawn === null ? {} : { drawn };
}

type AheadOfLaw = Parameters<typeof countsAhead> extends [FailureLaw, ...infer Ahead] ? Ahead : never;

function spanDistribution(
  law: FailureLaw,
  running: readonly RunningCell[],
  spans: readonly Span[],
  hidden: readonly HiddenDay[],
): Float64Array | null {
  const packs = packsRunning(running);
  const coming = logSpans(classesOf(spans, law.largestAge));
  const days = hidden.map(({ ageDays, packs: units }) => ({ from: Math.max(0, ageDays - 1), to: ageDays, units }));
  const known = logSpans(classesOf(days, law.largestAge).map(({ to, units }) => ({ from: to - 1, to, units })));
  return countDistribution(law, packs, ({ share, shape, scale }) => {
    const logScale = Math.log(scale);
    let [sum, sumOfSquares] = [0, 0];
    const add = (units: number, chance: number) => {
      sum += units * chance;
      sumOfSquares += units * chance * chance;
    };
    for (const { logFrom, logTo, units } of coming)
      add(units, chanceOfFailing(share, Math.exp(shape * (logFrom - logScale)), Math.exp(shape * (logTo - logScale))));
    for (const { logFrom, logTo, units } of known)
      add(units, hazardOfStep(share, Math.exp(shape * (logFrom - logScale)), Math.exp(shape * (logTo - logScale))));
    return { sum: Math.min(packs, sum), sumOfSquares };
  });
}

/** Spans with the logarithms of their ages: in the innermost loop an exponential costs a third of a power. */
function logSpans(spans: readonly Span[]) {
  return spans.map(({ from, to, units }) => ({ logFrom: Math.log(Math.max(0, from)), logTo: Math.log(to), units }));
}

/** Spans by class of age and of length, each at the means of its packs. */
function classesOf(spans: readonly Span[], largestAge: number): Span[] {
  const width = Math.max(1, largestAge / AGE_CLASSES);
  const classes = new Map<string, { from: number; to: number; units: number }>();
  for (const { from, to, units } of spans) {
    const key = `${Math.floor(from / width)} ${Math.floor((to - from) / width)}`;
    const sum = classes.get(key) ?? { from: 0, to: 0, units: 0 };
    sum.from += from * units;
    sum.to += to * units;
    sum.units += units;
    classes.set(key, sum);
  }
  return [...classes.values()].map(({ from, to, units }) => ({ from: from / units, to: to / units, units }));
}
