import { clopperPearsonLimits } from "@/lib/stats/binomial-limits";
import { seededRandom } from "@/tests/support/seeded-random";

/**
 * Mean returns seen of twelve revisions of 2,000 packs, with revisions 4 and 9 at 1.534 times the hazard: R 4.2.2, 200 fleets of the
 * design of `known-truth-fleet.ts`, seed 7.
 */
const meanReturns = [116.77, 104, 90.365, 118.95, 65.775, 54.525, 42.57, 31.2, 31.755, 11.72, 3.64, 0.24];
const TIMES = 0.7 ** -1.2;
const BAD = [3, 8];
const YOUNG_BAD = 8;
/** Revisions of which packs have reached six months with their reports in: the design's own table leaves the others empty. */
const MATURE = 9;

/**
 * How often could anybody name the young bad revision among the worst two, who knew the true lag, the true hazard of the good ones and
 * how much worse the bad ones are? `likelihood`: by the likelihood ratio of just that; `ratio`: failures over those expected.
 * `npm run -s bench -- young-bad-bound [fleets]`, seed 7.
 */
export async function* rows([fleets = "20000"]: readonly string[]): AsyncIterable<object> {
  for (const packs of [2000, 3000, 4000, 6000]) {
    for (const revisions of [meanReturns.length, MATURE]) {
      const random = seededRandom(7);
      const found = { likelihood: 0, ratio: 0 };
      for (let fleet = 0; fleet < Number(fleets); fleet++) {
        const seen = meanReturns.slice(0, revisions).map((mean, i) => {
          const expected = ((packs / 2000) * mean) / (BAD.includes(i) ? TIMES : 1);
          const count = poisson(random, (packs / 2000) * mean);
          return { i, likelihood: count * Math.log(TIMES) - (TIMES - 1) * expected, ratio: count / expected };
        });
        for (const by of ["likelihood", "ratio"] as const) {
          const worst = seen.toSorted((a, b) => b[by] - a[by]).slice(0, 2);
          if (worst.some(({ i }) => i === YOUNG_BAD)) found[by] += 1;
        }
      }
      for (const by of ["likelihood", "ratio"] as const) {
        const { lower, upper } = clopperPearsonLimits(found[by], Number(fleets));
        yield {
          packsPerRevision: packs,
          revisions,
          by,
          fleets: Number(fleets),
          share: found[by] / Number(fleets),
          lower,
          upper,
        };
      }
    }
  }
}

/** By the waiting times between the events. */
function poisson(random: () => number, mean: number): number {
  let count = 0;
  const wait = () => -Math.log(1 - random());
  for (let at = wait(); at < mean; at += wait()) count += 1;
  return count;
}
