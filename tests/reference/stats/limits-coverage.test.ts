import { expect, test } from "vitest";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { LifeTally } from "@/lib/stats/life-tally";
import { survivalAtAge } from "@/lib/stats/survival-at-age";

const REPLICATES = 2000;
const UNITS = 100;

/** mulberry32, a public-domain generator: the same numbers on every machine. */
function seededUniform(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** How often the 95 % limits at age 1 hold the truth, with exponential lives of the given survival at age 1. */
function coverage(trueSurvival: number, hasLateEntries: boolean, seed: number): number {
  const uniform = seededUniform(seed);
  const rate = -Math.log(trueSurvival);
  let covered = 0;
  for (let replicate = 0; replicate < REPLICATES; replicate++) {
    const tally = new LifeTally();
    for (let unit = 0; unit < UNITS; ) {
      const life = -Math.log(1 - uniform()) / rate;
      const lastSeen = 0.3 + 1.7 * uniform();
      const entry = hasLateEntries && uniform() < 0.3 ? 0.5 * uniform() : 0;
      // A unit that failed or left before its entry would never have come under observation.
      if (Math.min(life, lastSeen) <= entry) continue;
      tally.add(entry, Math.min(life, lastSeen), life <= lastSeen);
      unit += 1;
    }
    const estimate = survivalAtAge(kaplanMeier(tally.counts()), 1);
    if (estimate.kind === "estimate" && estimate.lower <= trueSurvival && trueSurvival <= estimate.upper) covered += 1;
  }
  return covered / REPLICATES;
}

// If the true coverage is 0.95, the share of 2000 replicates lies within 3.29 * sqrt(0.95 * 0.05 / 2000) = 0.016 of it
// in 999 of 1000 simulations.
const ALLOWED = 3.29 * Math.sqrt((0.95 * 0.05) / REPLICATES);

const situations = [
  [0.5, false, 1],
  [0.7, false, 2],
  [0.5, true, 3],
  [0.7, true, 4],
] as const;

for (const [survival, hasLateEntries, seed] of situations) {
  const entries = hasLateEntries ? "with late entries" : "all seen from the start";
  test(`at survival ${survival}, ${entries}, 95 % limits hold the truth about 95 times in 100`, {
    timeout: 60_000,
  }, () => {
    const share = coverage(survival, hasLateEntries, seed);
    expect(Math.abs(share - 0.95), `share covered: ${share}`).toBeLessThan(ALLOWED);
  });
}
