/**
 * How sure a fall at rest must be, and how its millivolts become charge. What it must reach in mV or % per day stands with the verdict.
 * All are engineering defaults without authority unless a line names a source; a pack model may bring its own.
 */
export interface LeakThresholds {
  /** Standard errors by which a leak must be known over rests of days, and over one of hours, in which relaxation still plays a part. */
  readonly sigmas: number;
  readonly shortSigmas: number;
  /** Scatters between the groups by which it must stand out. */
  readonly scatters: number;
  /** A fall within hours that no relaxation does: V in all, and mV per day. */
  readonly grossFallV: number;
  readonly grossFallMillivoltPerDay: number;
  /** K by which a place must grow warmer through a rest, beside the others, for a drift that is only watched to set the pack apart. */
  readonly driftWarmingK: number;
  /** Days of rest, relaxation left out, from which a rest counts as one of two days. */
  readonly twoDaysFrom: number;
  /** Standard errors by which a fall must be known to be watched, and scatters from which few millivolts are. */
  readonly watchSigmas: number;
  readonly watchScatters: number;
  /** Standard errors by which a fall must be known to make a weak group a damaged one. */
  readonly weakFallSigmas: number;
  /** Share of its pace in the first half of a rest under which a fall in the second has ended, as a balancer's does. */
  readonly endedShare: number;
  /** Multiple of its pace in the first half from which a fall accelerates, and mV per day that the first half is never taken slower than. */
  readonly fasterTimes: number;
  readonly leastPaceMillivoltPerDay: number;
  /** A leak under a common current: standard errors and scatters between the groups by which it must be more than the current takes. */
  readonly drawSigmas: number;
  readonly drawScatters: number;
  /** Scatter between sound groups never taken smaller, as a share of what the current moved. */
  readonly drawLeastScatterShare: number;
  /** % of charge from which on the errors of a curve in two places have nothing to do with each other. */
  readonly unlikeFromPercent: number;
  /** % of charge either way over which a slope is taken at least, so that corners of a table do not show. */
  readonly leastSpanPercent: number;
  /** % of charge either way within which a generic curve may have its flat parts elsewhere than the pack's own. */
  readonly flatElsewherePercent: number;
  /** mV per %: the flattest five per cent of any curve of layered oxide known here (Ecker 2015 between 45 and 50 %, diagnostics.md 1.8), and V of rest under which all of them are steep. */
  readonly flattestMillivoltPerPercent: number;
  readonly steepBelowV: number;
}

export const defaultLeakThresholds: LeakThresholds = {
  sigmas: 5,
  shortSigmas: 8,
  scatters: 5,
  grossFallV: 0.02,
  grossFallMillivoltPerDay: 120,
  driftWarmingK: 2,
  twoDaysFrom: 1.8,
  watchSigmas: 2,
  watchScatters: 3,
  weakFallSigmas: 3,
  endedShare: 0.3,
  fasterTimes: 2,
  leastPaceMillivoltPerDay: 0.5,
  drawSigmas: 4,
  drawScatters: 5,
  drawLeastScatterShare: 0.02,
  unlikeFromPercent: 5,
  leastSpanPercent: 2.5,
  flatElsewherePercent: 10,
  flattestMillivoltPerPercent: 1.3,
  steepBelowV: 3.5,
};
