import {
  countCalls,
  inOneCountry,
  otherPace,
  slowCountry,
  slowestCountry,
  type UnlikeCase,
  type UnlikeCounts,
  usualDelay,
  withinAWeek,
  youngDealer,
} from "@/tests/support/unlike-fleets";

/** Fleets of each case, and the seed they are made from. */
const FLEETS = 12;
const SEED = 5;
/** Fleets of twelve whose limits hold the truth: of 95 in 100, nine or more are in 99.8 of 100 cases (binomial). */
const FEWEST_INSIDE = 9;
/** "In most." */
const FEWEST_FOUND = 7;

interface Promised {
  readonly of: UnlikeCase;
  /** The ratio is to be right and not only not called; a change of pace and a dealer of 40 days are beyond that. */
  readonly isRatioPromised: boolean;
  /** Of a true doubling whether it is to be found; behind the slowest country too little is known yet. */
  readonly isFound: boolean;
}

const cases: readonly Promised[] = [
  ...[1, 2].flatMap((truth) => [
    { of: inOneCountry("slow", slowCountry, truth), isRatioPromised: true, isFound: truth > 1 },
    { of: inOneCountry("slow", slowestCountry, truth), isRatioPromised: true, isFound: false },
    { of: inOneCountry("fast", slowestCountry, truth), isRatioPromised: true, isFound: truth > 1 },
    { of: youngDealer(60, usualDelay, withinAWeek, truth), isRatioPromised: true, isFound: truth > 1 },
    { of: youngDealer(90, usualDelay, withinAWeek, truth), isRatioPromised: true, isFound: truth > 1 },
    { of: otherPace(30, 30, 60, truth), isRatioPromised: true, isFound: truth > 1 },
  ]),
  { of: youngDealer(40, usualDelay, withinAWeek, 1, 700), isRatioPromised: false, isFound: false },
  { of: youngDealer(60, usualDelay, usualDelay, 1), isRatioPromised: true, isFound: false },
  ...[30, 60, 120].flatMap((since) => [
    { of: otherPace(45, 12, since, 1), isRatioPromised: false, isFound: false },
    { of: otherPace(12, 45, since, 1), isRatioPromised: false, isFound: false },
  ]),
];

function holds({ of: { truth }, isRatioPromised, isFound }: Promised, counts: UnlikeCounts): boolean {
  const isFalse = truth === 1 ? counts.worse + counts.better > 0 : counts.better > 0;
  return !isFalse && (!isRatioPromised || counts.inside >= FEWEST_INSIDE) && (!isFound || counts.worse >= FEWEST_FOUND);
}

/**
 * What is said of groups whose packs do not share one unchanging delay: `npm run -s bench -- unlike-delays`. Nothing is to be called
 * falsely on either side; ends with 1 where a case misses what is promised of it.
 */
export async function* rows(): AsyncIterable<object> {
  for (const one of cases) {
    const counts = countCalls(one.of, FLEETS, SEED);
    yield { name: one.of.name, ...counts, agree: holds(one, counts) };
  }
}
