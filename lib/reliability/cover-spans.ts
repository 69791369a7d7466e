import { type CoverLaw, packsRunning, type RunningCell } from "./cover-basis";
import { countDistribution } from "./failure-forecast";
import type { HiddenDay } from "./hidden-exposure";

/** Packs are put in so many classes of age for the limits; the expected number itself is summed exactly. */
const AGE_CLASSES = 60;

/** So many packs that go from one age to another. */
export interface Span {
  readonly from: number;
  readonly to: number;
  readonly units: number;
}

/**
 * Failures to expect while packs go from age to age, given that they run at the first: sum of [F(to) - F(from)] / [1 - F(from)],
 * and of its square. Ages above `lastAge` are left out.
 */
export function spanSums(spans: readonly Span[], shape: number, scale: number, lastAge = Number.POSITIVE_INFINITY) {
  let [sum, sumOfSquares] = [0, 0];
  for (const { from, to, units } of spans) {
    const end = Math.max(from, Math.min(to, lastAge));
    const probability = -Math.expm1((from / scale) ** shape - (end / scale) ** shape);
    sum += units * probability;
    sumOfSquares += units * probability * probability;
  }
  return { sum, sumOfSquares };
}

/** Failures to expect on days that are over and of which not everything has reached us. */
export function hiddenSums(hidden: readonly HiddenDay[], shape: number, scale: number) {
  let [sum, sumOfSquares] = [0, 0];
  for (const { ageDays, packs } of hidden) {
    const hazard = (ageDays / scale) ** shape - (Math.max(0, ageDays - 1) / scale) ** shape;
    sum += packs * hazard;
    sumOfSquares += packs * hazard * hazard;
  }
  return { sum, sumOfSquares };
}

/**
 * Probability of each number of failures over the spans and the hidden days together, chance and doubt about the law in it.
 * Null where the law has no usable doubt.
 */
export function spanDistribution(
  law: CoverLaw,
  running: readonly RunningCell[],
  spans: readonly Span[],
  hidden: readonly HiddenDay[],
): Float64Array | null {
  const packs = packsRunning(running);
  const coming = logSpans(classesOf(spans, law.largestAge));
  const days = hidden.map(({ ageDays, packs: units }) => ({ from: Math.max(0, ageDays - 1), to: ageDays, units }));
  const known = logSpans(classesOf(days, law.largestAge).map(({ to, units }) => ({ from: to - 1, to, units })));
  return countDistribution(law, packs, (shape, scale) => {
    const logScale = Math.log(scale);
    let [sum, sumOfSquares] = [0, 0];
    const add = (units: number, chance: number) => {
      sum += units * chance;
      sumOfSquares += units * chance * chance;
    };
    for (const { logFrom, logTo, units } of coming)
      add(units, -Math.expm1(Math.exp(shape * (logFrom - logScale)) - Math.exp(shape * (logTo - logScale))));
    for (const { logFrom, logTo, units } of known)
      add(units, Math.exp(shape * (logTo - logScale)) - Math.exp(shape * (logFrom - logScale)));
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
