import { compareFamily, type GroupEffect } from "@/lib/reliability/compare-strata";
import { type DelayPlaces, delayPlaces } from "@/lib/reliability/delay-places";
import { groupLags } from "@/lib/reliability/group-lags";
import type { LifeCell, LifeTable } from "@/lib/reliability/life-cell";
import { latelyLag } from "@/lib/reliability/pace";
import type { LagEstimate } from "@/lib/reliability/reporting-lag";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { seededRandom } from "./seeded-random";

// Made-up fleets in which the packs of a comparison do not share one unchanging delay. All fail alike, with a mean of 700 days, unless
// said otherwise.
const MEAN_LIFE_DAYS = 700;
const life = { line: "confirmed", stratum: "M", entryDays: 0, dispatched: true, detail: null, packs: 1 } as const;

/** The delay of a failure told so many days ago. */
type LagOf = (random: () => number, toldAgo: number) => number;

/** Packs of one group sold through one dealer, evenly over the last days. */
interface Sold {
  readonly group: string;
  readonly place: string;
  readonly packs: number;
  readonly oldestDays: number;
  readonly hazardTimes?: number;
  readonly lagOf: LagOf;
}

const between =
  (from: number, to: number): LagOf =>
  (random) =>
    from + Math.floor((to - from) * random());
/** With this mean, or lately with another one, at most 92 days. */
const exponential =
  (mean: number, lately: number = mean, sinceDays = 0): LagOf =>
  (random, toldAgo) =>
    Math.min(92, Math.floor(-(toldAgo <= sinceDays ? lately : mean) * Math.log(1 - random())));

export interface UnlikeCase {
  readonly name: string;
  /** The group asked about, what it is compared by, and how many times as often it fails. */
  readonly asked: string;
  readonly by: "revision" | "dealer";
  readonly truth: number;
  readonly sold: readonly Sold[];
}

const fast = between(8, 18);

/** An old revision through a fast and a slow country, and a new one through one of them alone. */
export function inOneCountry(through: "fast" | "slow", slow: LagOf, truth: number): UnlikeCase {
  const old = [
    { group: "R1", place: "fast", packs: 1500, oldestDays: 400, lagOf: fast },
    { group: "R1", place: "slow", packs: 500, oldestDays: 400, lagOf: slow },
  ];
  const lagOf = through === "slow" ? slow : fast;
  const R2 = { group: "R2", place: through, packs: 1000, oldestDays: 100, hazardTimes: truth, lagOf };
  const name = `new revision in the ${through} country, ${truth} times`;
  return { name, asked: "R2", by: "revision", truth, sold: [...old, R2] };
}

export const slowCountry = between(35, 55);
export const slowestCountry = between(50, 80);

/** Two dealers with a mean delay, and one that began lately. */
export function youngDealer(oldestDays: number, others: LagOf, lagOf: LagOf, truth: number, packs = 1500): UnlikeCase {
  const known = ["D1", "D2"].map((group) => ({ group, place: group, packs: 800, oldestDays: 300, lagOf: others }));
  const F = { group: "F", place: "F", packs, oldestDays, hazardTimes: truth, lagOf };
  return { name: `dealer of ${oldestDays} days, ${truth} times`, asked: "F", by: "dealer", truth, sold: [...known, F] };
}

export const usualDelay = exponential(45);
export const withinAWeek = between(2, 7);

/** The bench has another pace since so many days, and a revision is younger than 70. */
export function otherPace(before: number, lately: number, sinceDays: number, truth: number): UnlikeCase {
  const lagOf = exponential(before, lately, sinceDays);
  const sold = [
    { group: "R1", place: "D1", packs: 1500, oldestDays: 400, lagOf },
    { group: "R2", place: "D1", packs: 1200, oldestDays: 70, hazardTimes: truth, lagOf },
  ];
  const name = `mean delay ${before}, ${lately} since ${sinceDays} days, ${truth} times`;
  return { name, asked: "R2", by: "revision", truth, sold };
}

export interface UnlikeFleet {
  readonly table: LifeTable;
  readonly lag: LagEstimate;
  readonly delays: DelayPlaces;
}

export function fleetOf(sold: readonly Sold[], random: () => number): UnlikeFleet {
  const lagsByPlace = new Map<string, TruncatedLag[]>();
  const cells = sold.flatMap(({ group, place, packs, oldestDays, hazardTimes = 1, lagOf }) =>
    Array.from({ length: packs }, (): LifeCell => {
      const age = 1 + Math.floor(oldestDays * random());
      const fails = Math.ceil((-Math.log(1 - random()) * MEAN_LIFE_DAYS) / hazardTimes);
      const toldAgo = age - fails;
      const lag = lagOf(random, toldAgo);
      const of = { ...life, group, place };
      if (toldAgo < 0) return { ...of, exitDays: age, slackDays: 0, status: "running" };
      if (lag <= toldAgo) lagsByPlace.set(place, [...(lagsByPlace.get(place) ?? []), { lag, longest: toldAgo }]);
      const status = lag <= toldAgo ? "failed" : "undecided";
      return { ...of, exitDays: fails, slackDays: Math.min(92, toldAgo), status };
    }),
  );
  const lag = latelyLag([...lagsByPlace.values()].flat());
  const delays = delayPlaces(
    lag,
    { dealer: groupLags("dealer", lagsByPlace, lag), country: groupLags("country", new Map(), lag) },
    new Map(),
  );
  return { table: { cells, excluded: [] }, lag, delays };
}

export interface UnlikeCounts {
  readonly fleets: number;
  /** As the product calls the group asked about, and as the test would without the doubt about the delay. */
  readonly worse: number;
  readonly better: number;
  readonly byTestAlone: number;
  /** Fleets in which the limits of the ratio hold the truth. */
  readonly inside: number;
}

/** What is made of the group asked about, over fleets of one case. */
export function countCalls({ asked, by, truth, sold }: UnlikeCase, fleets: number, seed: number): UnlikeCounts {
  const random = seededRandom(seed);
  const effects = Array.from({ length: fleets }, () => effectIn(fleetOf(sold, random), by, asked));
  const tested = effects.filter(({ adjustedP }) => (adjustedP ?? 1) < 0.05);
  const called = tested.filter(({ holds }) => holds !== false);
  return {
    fleets,
    worse: called.filter(({ observed, expected }) => observed > expected).length,
    better: called.filter(({ observed, expected }) => observed < expected).length,
    byTestAlone: tested.length,
    inside: effects.filter(
      ({ ratio }) => ratio !== null && ratio.lower <= truth && truth <= (ratio.upper ?? Number.POSITIVE_INFINITY),
    ).length,
  };
}

function effectIn({ table, delays }: UnlikeFleet, by: UnlikeCase["by"], asked: string): GroupEffect {
  const comparison = compareFamily(table, delays.of(by).reporting, () => (effect) => effect.group === asked);
  const found = comparison.groups.find(({ group }) => group === asked);
  if (found === undefined) throw new Error("the group asked about is expected");
  return found;
}
