import { medianOf } from "@/lib/readings/median";

export interface TimeMark {
  readonly bucket: number;
  readonly timeS: number;
}

/** A stretch this many times longer than the middle one is a sleep of the logger. Engineering default, no authority. */
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

/** The buckets before which much time passed without rows: the longest few of them, in order. */
export function sleepBreaks(timeS: readonly number[]): number[] {
  const steps = timeS.slice(1).map((time, i) => ({ bucket: i + 1, seconds: time - (timeS[i] ?? 0) }));
  const usual = medianOf(Float64Array.from(steps, ({ seconds }) => seconds));
  return steps
    .filter(({ seconds }) => seconds > SLEEP_FACTOR * usual && usual > 0)
    .sort((a, b) => b.seconds - a.seconds)
    .slice(0, MOST_BREAKS)
    .map(({ bucket }) => bucket)
    .sort((a, b) => a - b);
}
