/**
 * Whole-number ages below this are counted in plain arrays, all others in a map. Ages in days fit many times over
 * (65,536 days are 179 years); the limit only keeps a stray large number from claiming memory.
 */
const DENSE_AGES = 65_536;
const FIRST_CAPACITY = 64;

/** Units by exact age. A class and not a closure because fields are reached faster, and this runs once or twice a unit. */
export class AgeCounter {
  private dense = new Float64Array(FIRST_CAPACITY);
  private readonly sparse = new Map<number, number>();

  add(age: number, units: number): void {
    const whole = age | 0;
    if (whole !== age || whole >= this.dense.length || whole < 0) this.addElsewhere(age, units);
    else this.dense[whole] = (this.dense[whole] ?? 0) + units;
  }

  /** Ages that are no whole numbers, and whole ones for which the array has to grow first. */
  private addElsewhere(age: number, units: number): void {
    if (!isDense(age)) {
      this.sparse.set(age, (this.sparse.get(age) ?? 0) + units);
      return;
    }
    const larger = new Float64Array(2 ** Math.ceil(Math.log2(age + 1)));
    larger.set(this.dense);
    this.dense = larger;
    this.add(age, units);
  }

  at(age: number): number {
    return (isDense(age) ? this.dense[age] : this.sparse.get(age)) ?? 0;
  }

  /** All ages with units, in no order. */
  *ages(): Generator<number> {
    for (const [age, units] of this.dense.entries()) if (units > 0) yield age;
    yield* this.sparse.keys();
  }
}

function isDense(age: number): boolean {
  return age >= 0 && age < DENSE_AGES && Number.isInteger(age);
}
