import { type DrawnP, drawnP } from "./drawn-p";
import { firstAbove } from "./first-above";
import { countsAtSharedAges, type RiskSet } from "./risk-sets";
import { seededRandom } from "./seeded-random";

/**
 * With less to be expected of a group the chi-square distribution calls chance a sign. Cochran, Biometrics 10 (1954) 417-451
 * (rule of thumb, from memory).
 */
const FEWEST_FOR_CHI_SQUARE = 5;

/** Whether some group that takes part has too little to expect for chi-square. */
export function isSparse(groups: readonly { readonly expected: number }[]): boolean {
  return groups.some(({ expected }) => expected > 0 && expected < FEWEST_FOR_CHI_SQUARE);
}

/** Any: a fixed one, so that the same fleet has the same p on every page. */
const SEED = 1966;

/**
 * Answers: do the groups fail alike, where some have so few failures to expect that chi-square says nothing? One failure in a
 * group with a hundredth to expect adds a hundred to the log-rank statistic, and among many such groups there is always one.
 *
 * The statistic is the sum over groups of (observed - expected)^2 / (expected + 1): as in chi-square where much is to be
 * expected, and towards the score test of a spread among many small groups where little is. Its chance is drawn: given who is
 * at risk at each failure age, the failures of that age are dealt out among them (without replacement where they are whole
 * units), and p is the share of such fleets whose statistic is at least that seen (`drawnP`). Same seed, same p.
 *
 * Null where no failure age has two groups at risk. Sources: Mantel, Cancer Chemother. Rep. 50 (1966) 163-170 for the
 * conditional distribution; Commenges & Andersen, Lifetime Data
 * Analysis 1 (1995) 145-156 for many small groups (from memory). The weight 1 / (expected + 1) is this program's own: what is
 * chosen there costs power at most, never truth, since p is drawn for it.
 */
export function drawnHomogeneity(strata: readonly Iterable<RiskSet>[], groupCount: number): DrawnP | null {
  const sets = strata.flatMap((some) => [...some]);
  const counts = countsAtSharedAges([sets], groupCount);
  const deals = sets.flatMap(dealOf);
  if (deals.length === 0) return null;
  const failures = deals.reduce((sum, { ties }) => sum + ties, 0);
  const expected = Float64Array.from(counts, (count) => count.expected);
  const seen = statistic(
    Float64Array.from(counts, (count) => count.observed),
    expected,
  );
  const random = seededRandom(SEED);
  const drawn = new Float64Array(groupCount);
  return drawnP(seen, failures, () => {
    drawn.fill(0);
    for (const deal of deals) dealOut(deal, random, drawn);
    return statistic(drawn, expected);
  });
}

function statistic(observed: Float64Array, expected: Float64Array): number {
  let sum = 0;
  for (const [g, e] of expected.entries()) sum += ((observed[g] ?? 0) - e) ** 2 / (e + 1);
  return sum;
}

/** Failures of one age to be dealt out among those at risk. */
interface Deal {
  readonly groups: readonly number[];
  /** Those at risk up to and with each of the groups. */
  readonly upTo: Float64Array;
  readonly all: number;
  readonly ties: number;
  readonly isWhole: boolean;
}

function dealOf({ atRisk, failed }: RiskSet): Deal[] {
  const groups = atRisk.flatMap((n, g) => (n > 0 ? [g] : []));
  const ties = failed.reduce((sum, d) => sum + d, 0);
  if (groups.length < 2 || ties === 0) return [];
  let all = 0;
  const upTo = Float64Array.from(groups, (g) => {
    all += atRisk[g] ?? 0;
    return all;
  });
  const isWhole = ties > 1 && ties <= all && atRisk.every(Number.isSafeInteger);
  return [{ groups, upTo, all, ties, isWhole }];
}

function dealOut({ groups, upTo, all, ties, isWhole }: Deal, random: () => number, drawn: Float64Array): void {
  const taken = isWhole ? new Set<number>() : null;
  for (let l = 0; l < ties; l++) {
    let place = random() * all;
    if (taken !== null) {
      while (taken.has(Math.floor(place))) place = random() * all;
      taken.add(Math.floor(place));
    }
    const group = groups[firstAbove(upTo, place)] ?? 0;
    drawn[group] = (drawn[group] ?? 0) + 1;
  }
}
