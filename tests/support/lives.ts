import type { LifeCount } from "@/lib/stats/life-counts";
import { LifeTally } from "@/lib/stats/life-tally";

/** [entry age, exit age, 1 failed or 0 still running] */
export type Life = readonly [entryAge: number, exitAge: number, status: 0 | 1];

export function countLives(lives: Iterable<Life>): LifeCount[] {
  const tally = new LifeTally();
  for (const [entryAge, exitAge, status] of lives) tally.add(entryAge, exitAge, status === 1);
  return tally.counts();
}
