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

/**
 * What the simulation gave (`npm run -s bench -- signal-rates`), which says itself whether it still comes out so. Run in
 * two halves, so that the time to a signal is told with what it varies by. One delay stands for all of its groups.
 */
export const measuredSignals = {
  /** Rules it was run under; the page says where they are not those of today. */
  rules: "signals-5",
  halves: [
    { firstSeed: 1, fleets: 60, medianDays: 335 },
    { firstSeed: 61, fleets: 60, medianDays: 279 },
  ],
  /** Of all fleets alike, those in which any group ever gave a signal. */
  withFalseSignal: 2,
  /** Of all fleets with a bad group, those in which it gave one; the days are from its first sale, in the middle. */
  badFound: 57,
} as const;
