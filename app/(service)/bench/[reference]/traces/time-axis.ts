export interface TimeMark {
  readonly bucket: number;
  readonly timeS: number;
}

/** A stretch this many times longer than those beside it is a sleep of the logger. Engineering default, no authority. */
const SLEEP_FACTOR = 8;
/** More marks than this are no help to the eye. */
const MOST_BREAKS = 12;
const MARKS = 4;

/** Elapsed times under the picture, evenly spread over the rows. */
export function timeMarks(timeS: readonly number[]): TimeMark[] {
  const last = timeS.length - 1;
  if (last < 1) return [];
  const buckets = Array.from({ length: MARKS }, (_, i) => Math.round((i / (MARKS - 1)) * last));
  return [...new Set(buckets)].map((bucket) => ({ bucket, timeS: timeS[bucket] ?? 0 }));
}

/**
 * The buckets before which much time passed without rows: the longest few of them, in order. A gap is long against the
 * stretches on both sides of it, so that a logger that merely changes its pace is not taken for one that slept.
 */
export function sleepBreaks(timeS: readonly number[]): number[] {
  const stepAt = (bucket: number) => (timeS[bucket] ?? Number.NaN) - (timeS[bucket - 1] ?? Number.NaN);
  return timeS
    .map((_, bucket) => ({ bucket, seconds: stepAt(bucket), beside: Math.max(stepAt(bucket - 1), stepAt(bucket + 1)) }))
    .filter(({ seconds, beside }) => seconds > SLEEP_FACTOR * beside && beside > 0)
    .sort((a, b) => b.seconds - a.seconds)
    .slice(0, MOST_BREAKS)
    .map(({ bucket }) => bucket)
    .sort((a, b) => a - b);
}
