import { type LifeCount, lifeProblem } from "./life-counts";

/**
 * Whole-number ages below this are counted in plain arrays, all others in a map. Ages in days fit many times over
 * (65,536 days are 179 years); the limit only keeps a stray large number from claiming memory.
 */
const DENSE_AGES = 65_536;
const FIRST_CAPACITY = 64;

export interface LifeTally {
  /**
   * Counts `units` equal lives (entryAge, exitAge], ended by failure or last seen running.
   * Throws a RangeError on a life that `lifeProblem` names, or unless `units` is a positive whole number.
   */
  add(entryAge: number, exitAge: number, failed: boolean, units?: number): void;
  /** The counts so far, one entry per distinct age, ages rising. Empty where nothing was added. */
  counts(): LifeCount[];
}

/**
 * Collects observed lives into counts per distinct age, one unit at a time, so that a file or a query can be streamed
 * through it. Cost per unit is constant for whole-number ages.
 */
export function createLifeTally(): LifeTally {
  const entered = createAgeCounter();
  const failedAt = createAgeCounter();
  const censored = createAgeCounter();

  return {
    add(entryAge, exitAge, failed, units = 1) {
      const problem = lifeProblem(entryAge, exitAge);
      if (problem !== null) throw new RangeError(`life (${entryAge}, ${exitAge}] cannot be counted: ${problem}`);
      if (!Number.isSafeInteger(units) || units < 1)
        throw new RangeError(`units must be a positive whole number, got ${units}`);
      entered.add(entryAge, units);
      (failed ? failedAt : censored).add(exitAge, units);
    },
    counts() {
      const ages = new Set([...entered.ages(), ...failedAt.ages(), ...censored.ages()]);
      return Float64Array.from(ages)
        .sort()
        .reduce<LifeCount[]>((counts, age) => {
          counts.push({ age, entered: entered.at(age), failed: failedAt.at(age), censored: censored.at(age) });
          return counts;
        }, []);
    },
  };
}

interface AgeCounter {
  add(age: number, units: number): void;
  at(age: number): number;
  ages(): Iterable<number>;
}

function createAgeCounter(): AgeCounter {
  let dense = new Float64Array(FIRST_CAPACITY);
  const sparse = new Map<number, number>();

  function isDense(age: number): boolean {
    return age < DENSE_AGES && Number.isInteger(age);
  }

  return {
    add(age, units) {
      if (!isDense(age)) {
        sparse.set(age, (sparse.get(age) ?? 0) + units);
        return;
      }
      if (age >= dense.length) {
        const larger = new Float64Array(Math.min(DENSE_AGES, 2 ** Math.ceil(Math.log2(age + 1))));
        larger.set(dense);
        dense = larger;
      }
      dense[age] = (dense[age] ?? 0) + units;
    },
    at(age) {
      return (isDense(age) ? dense[age] : sparse.get(age)) ?? 0;
    },
    *ages() {
      for (const [age, units] of dense.entries()) if (units > 0) yield age;
      yield* sparse.keys();
    },
  };
}
