import { seededRandom } from "@/tests/support/seeded-random";

export const REVISIONS = 12;
const LAST_DAY = 1080;
const WORSE = new Set([3, 8]);

/**
 * A made-up fleet as columns: 12 revisions built a quarter each, put to use at random days up to the data date, Weibull lives of
 * shape 1.2 of which about 2.5 % end before it, whole days. Two revisions are worse; with `share` above 0 that part of the
 * units is first seen late.
 */
export function fleetColumns(units: number, seed: number, lateShare = 0) {
  const uniform = seededRandom(seed);
  const group = new Uint8Array(units);
  const entry = new Float64Array(units);
  const exit = new Float64Array(units);
  const failed = new Uint8Array(units);
  for (let i = 0; i < units; i++) {
    const revision = Math.floor(uniform() * REVISIONS);
    const built = revision * 90;
    const used = built + uniform() * (90 + (LAST_DAY - built - 90) * uniform());
    const watched = Math.max(1, LAST_DAY - used);
    const scale = WORSE.has(revision) ? 9700 * Math.exp(-0.25) : 9700;
    const fails = scale * (-Math.log(1 - uniform())) ** (1 / 1.2);
    group[i] = revision;
    failed[i] = fails <= watched ? 1 : 0;
    exit[i] = Math.max(1, Math.ceil(Math.min(fails, watched)));
    entry[i] = uniform() < lateShare ? Math.floor(Math.min((exit[i] ?? 1) - 1, 60 * uniform())) : 0;
  }
  return { group, entry, exit, failed };
}
