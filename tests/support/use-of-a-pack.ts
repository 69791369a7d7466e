import type { Act } from "./plain-pack";

/** A ride from nearly full to about a third, a charge, and rests between: enough load, sweep and rest to judge a pack. */
export const fullUse: readonly Act[] = [
  { act: "rest", hours: 0.5 },
  { act: "ride", minutes: 62, meanA: 32, peakA: 150 },
  { act: "rest", hours: 0.8 },
  { act: "charge", currentA: 16, toPercent: 96 },
  { act: "rest", hours: 1 },
];

/** A short ride, then more than two days parked. */
export const parkedUse: readonly Act[] = [
  { act: "rest", hours: 0.5 },
  { act: "ride", minutes: 25, meanA: 32, peakA: 150 },
  { act: "rest", hours: 54 },
];
