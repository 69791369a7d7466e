import { AgeCounter } from "./age-counter";
import { type LifeCount, lifeProblem } from "./life-counts";

/**
 * Collects observed lives into counts per distinct age, one unit at a time, so that a file or a query can be streamed
 * through it. Cost per unit is constant, memory follows the number of distinct ages.
 */
export class LifeTally {
  private readonly entered = new AgeCounter();
  private readonly failed = new AgeCounter();
  private readonly censored = new AgeCounter();

  /**
   * Counts `units` equal lives (entryAge, exitAge], ended by failure or last seen running.
   * Throws a RangeError on a life that `lifeProblem` names, or unless `units` is a positive whole number.
   */
  add(entryAge: number, exitAge: number, failed: boolean, units = 1): void {
    const problem = lifeProblem(entryAge, exitAge);
    if (problem !== null) throw new RangeError(`life (${entryAge}, ${exitAge}] cannot be counted: ${problem}`);
    if (!Number.isSafeInteger(units) || units < 1) {
      throw new RangeError(`units must be a positive whole number, got ${units}`);
    }
    this.entered.add(entryAge, units);
    if (failed) this.failed.add(exitAge, units);
    else this.censored.add(exitAge, units);
  }

  /** The counts so far, one entry per distinct age, ages rising. Empty where nothing was added. */
  counts(): LifeCount[] {
    const ages = new Set([...this.entered.ages(), ...this.failed.ages(), ...this.censored.ages()]);
    return Array.from(Float64Array.from(ages).sort(), (age) => ({
      age,
      entered: this.entered.at(age),
      failed: this.failed.at(age),
      censored: this.censored.at(age),
    }));
  }
}
