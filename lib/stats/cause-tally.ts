import { AgeCounter } from "./age-counter";
import { lifeProblem } from "./life-counts";

/** What happened at one age, with the failures told apart by cause. */
export interface CauseCount {
  readonly age: number;
  readonly entered: number;
  readonly censored: number;
  /** One number a cause, in the order of `CauseCounts.causes`. */
  readonly failed: readonly number[];
}

export interface CauseCounts {
  readonly causes: readonly string[];
  /** Distinct ages, rising. */
  readonly counts: readonly CauseCount[];
}

/** Collects observed lives that end in one of several causes, or are still running. Cost per unit is constant. */
export class CauseTally {
  private readonly entered = new AgeCounter();
  private readonly censored = new AgeCounter();
  private readonly failed = new Map<string, AgeCounter>();

  /**
   * Counts `units` equal lives (entryAge, exitAge]; `cause` null for "last seen running".
   * Throws a RangeError on a life that `lifeProblem` names, or unless `units` is a positive whole number.
   */
  add(entryAge: number, exitAge: number, cause: string | null, units = 1): void {
    const problem = lifeProblem(entryAge, exitAge);
    if (problem !== null) throw new RangeError(`life (${entryAge}, ${exitAge}] cannot be counted: ${problem}`);
    if (!Number.isSafeInteger(units) || units < 1)
      throw new RangeError(`units must be a positive whole number, got ${units}`);
    this.entered.add(entryAge, units);
    this.exits(cause).add(exitAge, units);
  }

  private exits(cause: string | null): AgeCounter {
    if (cause === null) return this.censored;
    const known = this.failed.get(cause);
    if (known !== undefined) return known;
    const counter = new AgeCounter();
    this.failed.set(cause, counter);
    return counter;
  }

  /** Causes in the order in which they were first seen. */
  counts(): CauseCounts {
    const failed = [...this.failed.values()];
    const ages = new Set([this.entered, this.censored, ...failed].flatMap((counter) => [...counter.ages()]));
    return {
      causes: [...this.failed.keys()],
      counts: Array.from(Float64Array.from(ages).sort(), (age) => ({
        age,
        entered: this.entered.at(age),
        censored: this.censored.at(age),
        failed: failed.map((counter) => counter.at(age)),
      })),
    };
  }
}
