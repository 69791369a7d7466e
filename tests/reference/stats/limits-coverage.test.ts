import { expect, test } from "vitest";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { LifeTally } from "@/lib/stats/life-tally";
import { survivalAtAge } from "@/lib/stats/survival-at-age";
import { seededRandom } from "@/tests/support/seeded-random";

const REPLICATES = 2000;
const UNITS = 100;

/** How often the 95 % limits at age 1 hold the truth, with exponential lives of the given survival at age 1. */
function coverage(trueSurvival: number, hasLateEntries: boolean, seed: number): number {
  const uniform = seededRandom(seed);
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

const situations = [
  [0.5, false, 1],
  [0.7, false, 2],
  [0.5, true, 3],
  [0.7, true, 4],
] as const;

for (const [survival, hasLateEntries, seed] of situations) {
  const entries = hasLateEntries ? "with late entries" : "all seen from the start";
  test(`at survival ${survival}, ${entries}, 95 % limits hold the truth 93.5 to 96.5 times in 100`, () => {
    const share = coverage(survival, hasLateEntries, seed);
    expect(share, "share covered").toBeGreaterThanOrEqual(0.935);
    expect(share, "share covered").toBeLessThanOrEqual(0.965);
  });
}
