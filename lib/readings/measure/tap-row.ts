/** What one row shows if a tap is at fault. */
export interface TapRow {
  readonly kind: "tap" | "two taps" | "end tap";
  readonly groups: readonly number[];
  readonly errorV: number;
}

/** Engineering defaults: the sum must be kept to this share, and groups outside must stay within this share. */
const sumShare = 0.2;
const isolationShare = 0.5;
/** Two taps are taken before one where they leave so small a share of what one leaves. */
const thirdShare = 0.5;

/**
 * Which tap error, if any, a row of deviations (V, baseline taken off) shows.
 *
 * One tap: neighbours +d and -d. Two taps in a row: three groups whose sum is right. End tap: the first or last group
 * alone, and the sum of the groups moves against the pack voltage by the same amount. `sumShiftV` may be NaN (no pack
 * voltage): inner taps are judged without it, end taps are not.
 */
export function tapRowKind(
  deviations: Float64Array,
  leastV: number,
  sumShiftV: number,
  sumNoiseV: number,
): TapRow | null {
  const last = deviations.length - 1;
  let worst = 0;
  for (let index = 1; index <= last; index += 1) {
    if (Math.abs(deviations[index] ?? 0) > Math.abs(deviations[worst] ?? 0)) worst = index;
  }
  const size = Math.abs(deviations[worst] ?? Number.NaN);
  if (!(size >= leastV) || last < 3) return null;
  const sumKept = !Number.isFinite(sumShiftV) || Math.abs(sumShiftV) <= Math.max(4 * sumNoiseV, sumShare * size);
  const at = (index: number) => deviations[index] ?? 0;
  if (sumKept) {
    const pair = pairAt(deviations, worst, leastV);
    const three = threeAt(deviations, worst, size);
    // Beside two taps one group in the middle is off by both: it makes a pair with the one that is off more, and leaves the third unexplained.
    if (three !== null && (pair === null || three.leftV <= thirdShare * pair.leftV)) return three.found;
    if (pair !== null) return pair.found;
  }
  if ((worst === 0 || worst === last) && Number.isFinite(sumShiftV) && 6 * sumNoiseV < size) {
    const agrees = Math.abs(sumShiftV - at(worst)) <= Math.max(0.2 * size, 3 * sumNoiseV);
    if (agrees && outside(deviations, worst, worst) < 0.3 * size) {
      return { kind: "end tap", groups: [worst + 1], errorV: size };
    }
  }
  return null;
}

interface Explained {
  readonly found: TapRow;
  /** V that it leaves unexplained among the groups beside it. */
  readonly leftV: number;
}

/** One tap: the worst group and a neighbour that is off by as much the other way. */
function pairAt(deviations: Float64Array, worst: number, leastV: number): Explained | null {
  const at = (index: number) => deviations[index] ?? 0;
  for (const from of [worst - 1, worst]) {
    if (from < 0 || from + 1 >= deviations.length) continue;
    const half = (at(from) - at(from + 1)) / 2;
    const sum = (at(from) + at(from + 1)) / 2;
    if (Math.abs(half) < leastV || Math.abs(sum) > sumShare * Math.abs(half)) continue;
    const leftV = outside(deviations, from, from + 1);
    if (leftV >= isolationShare * Math.abs(half)) continue;
    return { found: { kind: "tap", groups: [from + 1, from + 2], errorV: Math.abs(half) }, leftV };
  }
  return null;
}

/** Two taps side by side: three groups that are all off and together right. */
function threeAt(deviations: Float64Array, worst: number, size: number): Explained | null {
  const at = (index: number) => deviations[index] ?? 0;
  for (const from of [worst - 2, worst - 1, worst]) {
    if (from < 0 || from + 2 >= deviations.length) continue;
    const members = [at(from), at(from + 1), at(from + 2)];
    if (members.some((one) => Math.abs(one) < sumShare * size)) continue;
    const sum = at(from) + at(from + 1) + at(from + 2);
    if (Math.abs(sum) > sumShare * size) continue;
    const leftV = Math.max(Math.abs(sum), outside(deviations, from, from + 2));
    if (leftV >= sumShare * size) continue;
    return { found: { kind: "two taps", groups: [from + 1, from + 2, from + 3], errorV: size }, leftV };
  }
  return null;
}

/** Neighbours on each side that must be quiet. Engineering default. */
const neighbours = 3;

/** Largest deviation among the neighbours of the groups `from` to `to`, V. NaN counts as none. */
function outside(deviations: Float64Array, from: number, to: number): number {
  let largest = 0;
  for (const [index, deviation] of deviations.entries()) {
    if ((index >= from && index <= to) || index < from - neighbours || index > to + neighbours) continue;
    if (Math.abs(deviation) > largest) largest = Math.abs(deviation);
  }
  return largest;
}
