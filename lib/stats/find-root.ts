const ITERATIONS = 200;

/**
 * Where a continuous function changes sign between two points, to the last bits: bisection, sped up by secant steps
 * that may never leave the bracket (Illinois rule). Throws a RangeError where both ends have the same sign.
 * Source: Dowell & Jarratt, BIT 11 (1971) 168-174.
 */
export function findRoot(f: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  let [fa, fb] = [f(a), f(b)];
  if (fa === 0) return a;
  if (fb === 0) return b;
  if (!(fa < 0 !== fb < 0)) throw new RangeError(`no change of sign between ${low} and ${high}`);
  for (let i = 0; i < ITERATIONS; i++) {
    const secant = (a * fb - b * fa) / (fb - fa);
    const middle = i % 3 === 2 || !Number.isFinite(secant) ? (a + b) / 2 : secant;
    const fm = f(middle);
    if (fm === 0 || middle === a || middle === b || Math.abs(b - a) <= 4 * Number.EPSILON * Math.abs(middle))
      return middle;
    if (fm < 0 !== fb < 0) [a, fa] = [b, fb];
    else fa /= 2;
    [b, fb] = [middle, fm];
  }
  return (a + b) / 2;
}
