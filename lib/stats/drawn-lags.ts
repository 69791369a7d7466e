import { type DrawnP, drawnP } from "./drawn-p";
import { countLags, type TruncatedLag } from "./reverse-product-limit";
import { seededRandom } from "./seeded-random";

/** Any: a fixed one, so that the same fleet has the same p on every page. */
const SEED = 1992;

/**
 * Answers: do events of these groups become known equally fast, where some have so few that chi-square says nothing, or differ so that the whole sum sees nothing?
 *
 * From the longest lag down, those old enough for a lag are at risk of it. Were all groups alike, each lag seen could as well
 * belong to any event at risk of it that is not taken yet: so they are dealt out anew, each event keeping its age and group.
 * That keeps the ages of every group, and so is true of young dealers among old ones as well. The statistic is the largest, over
 * the lags from long to short, of the sum over groups of (seen - expected)^2 / (returns + 1), where a group's expected are its shares
 * of those at risk, lag by lag: of a group whose lags are all short the long ones are missing first and then the short ones come at
 * once, and at the end the two make up for each other.
 *
 * Sources: Efron & Petrosian, Astrophys. J. 399 (1992) 345-352 for the permutations that truncation allows (from memory). The
 * weight and the maximum over lags are this program's own: it costs power at most, never truth, since p is drawn for it.
 */
export function drawnLags(groups: readonly (readonly TruncatedLag[])[]): DrawnP {
  const steps = stepsOf(groups);
  const returns = steps.reduce((sum, { taken }) => sum + taken.length, 0);
  const own = Float64Array.from(groups, countLags);
  const pool = new Int32Array(returns);
  const atRisk = new Float64Array(groups.length);
  const expected = new Float64Array(groups.length);
  const seenSoFar = new Float64Array(groups.length);

  function statistic(random: (() => number) | null): number {
    atRisk.fill(0);
    expected.fill(0);
    seenSoFar.fill(0);
    let all = 0;
    let most = 0;
    for (const { entering, taken } of steps) {
      for (const group of entering) {
        pool[all++] = group;
        atRisk[group] = (atRisk[group] ?? 0) + 1;
      }
      const share = taken.length / all;
      for (const [group, n] of atRisk.entries()) expected[group] = (expected[group] ?? 0) + share * n;
      for (const seen of taken) {
        const place = random === null ? 0 : Math.floor(random() * all);
        const group = random === null ? seen : (pool[place] ?? 0);
        pool[place] = pool[--all] ?? 0;
        atRisk[group] = (atRisk[group] ?? 0) - 1;
        seenSoFar[group] = (seenSoFar[group] ?? 0) + 1;
      }
      let sum = 0;
      for (const [group, n] of own.entries()) sum += ((seenSoFar[group] ?? 0) - (expected[group] ?? 0)) ** 2 / (n + 1);
      if (sum > most) most = sum;
    }
    return most;
  }

  const random = seededRandom(SEED);
  return drawnP(statistic(null), returns, () => statistic(random));
}

/** One lag, the longest first. */
interface Step {
  /** Groups of the events just old enough for it. */
  readonly entering: readonly number[];
  /** Groups of the events it was seen of. */
  readonly taken: readonly number[];
}

function stepsOf(groups: readonly (readonly TruncatedLag[])[]): Step[] {
  const events = groups.flatMap((lags, group) =>
    lags.flatMap(({ lag, longest, count = 1 }) => Array.from({ length: count }, () => ({ group, lag, longest }))),
  );
  const byAge = events.toSorted((a, b) => b.longest - a.longest);
  const byLag = new Map<number, number[]>();
  for (const { group, lag } of events) {
    const taken = byLag.get(lag) ?? [];
    byLag.set(lag, taken);
    taken.push(group);
  }
  let entered = 0;
  return [...byLag]
    .sort(([a], [b]) => b - a)
    .map(([lag, taken]) => {
      const from = entered;
      while ((byAge[entered]?.longest ?? -1) >= lag) entered += 1;
      return { entering: byAge.slice(from, entered).map(({ group }) => group), taken };
    });
}
