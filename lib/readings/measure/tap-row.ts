/** What one row shows if a tap is at fault. */
export interface TapRow {
  readonly kind: "tap" | "two taps" | "end tap";
  readonly groups: readonly number[];
  readonly errorV: number;
}

/** Engineering defaults: the sum must be kept to this share, and groups outside must stay within this share. */
const sumShare = 0.2;
const isolationShare = 0.5;

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
    for (const from of [worst - 1, worst]) {
      if (from < 0 || from + 1 > last) continue;
      const half = (at(from) - at(from + 1)) / 2;
      const sum = (at(from) + at(from + 1)) / 2;
      if (Math.abs(half) < leastV || Math.abs(sum) > sumShare * Math.abs(half)) continue;
      if (outside(deviations, from, from + 1) >= isolationShare * Math.abs(half)) continue;
      return { kind: "tap", groups: [from + 1, from + 2], errorV: Math.abs(half) };
    }
    for (const from of [worst - 2, worst - 1, worst]) {
      if (from < 0 || from + 2 > last) continue;
      const members = [at(from), at(from + 1), at(from + 2)];
      if (members.some((one) => Math.abs(one) < sumShare * size)) continue;
      if (Math.abs(at(from) + at(from + 1) + at(from + 2)) > sumShare * size) continue;
      if (outside(deviations, from, from + 2) >= sumShare * size) continue;
      return { kind: "two taps", groups: [from + 1, from + 2, from + 3], errorV: size };
    }
  }
  if ((worst === 0 || worst === last) && Number.isFinite(sumShiftV) && 6 * sumNoiseV < size) {
    const agrees = Math.abs(sumShiftV - at(worst)) <= Math.max(0.2 * size, 3 * sumNoiseV);
    if (agrees && outside(deviations, worst, worst) < 0.3 * size) {
      return { kind: "end tap", groups: [worst + 1], errorV: size };
    }
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
