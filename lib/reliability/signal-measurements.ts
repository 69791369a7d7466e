/** The made-up fleets in which the watch was measured; the simulation is built from just these numbers. */
export const measuredFleet = {
  groups: 12,
  packsOfGroup: 250,
  /** Share of packs that fail in the first year. */
  failedByAYear: 0.06,
  /** So many times as often the one bad group fails, in the fleets that have one. */
  timesAsOften: 2,
  daysBetweenLooks: 14,
} as const;

/** A run of the simulation: `npm run -s bench -- signal-rates FLEETS FIRSTSEED`, which says whether it still comes out so. */
export interface SignalMeasurement {
  readonly firstSeed: number;
  readonly fleets: number;
  /** Of fleets alike, those in which any group ever gave a signal. */
  readonly withFalseSignal: number;
  /** Of fleets with a bad group, those in which it gave one, and after how many days from its first sale in the middle. */
  readonly badFound: number;
  readonly medianDays: number;
}

/** Two halves, so that the time to a signal is told with what it varies by. */
export const measuredSignals: readonly SignalMeasurement[] = [
  { firstSeed: 1, fleets: 60, withFalseSignal: 1, badFound: 28, medianDays: 335 },
  { firstSeed: 61, fleets: 60, withFalseSignal: 1, badFound: 29, medianDays: 279 },
];
