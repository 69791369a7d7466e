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
 * What the simulation gave (`npm run -s bench -- signal-rates`, some five minutes of processor time), which says itself whether it still
 * comes out so. False signals with the whole chance shared over the groups of the fleet, so that all of it is used, and at the share that the
 * product gives each group, which is far smaller; a bad group at both, and at the share of a house with more to watch: what sharing costs. One delay
 * stands for all groups of a fleet.
 */
export const measuredSignals = {
  /** Rules it was run under; the page says where they are not those of today. */
  rules: "signals-6",
  firstSeed: 1,
  fleets: 120,
  /** Of all fleets alike, those in which any group ever gave a signal, by the number of groups the chance was shared over. */
  falseSignals: [
    { sharedOver: 12, fleets: 2 },
    { sharedOver: 256, fleets: 0 },
  ],
  /** Of all fleets with a bad group, those in which it gave a signal within so many months of its first sale, and ever. */
  found: [
    {
      sharedOver: 12,
      within: [
        { months: 3, fleets: 2 },
        { months: 6, fleets: 12 },
        { months: 12, fleets: 39 },
      ],
      ever: 57,
    },
    {
      sharedOver: 256,
      within: [
        { months: 3, fleets: 0 },
        { months: 6, fleets: 5 },
        { months: 12, fleets: 15 },
      ],
      ever: 20,
    },
    {
      sharedOver: 512,
      within: [
        { months: 3, fleets: 0 },
        { months: 6, fleets: 4 },
        { months: 12, fleets: 13 },
      ],
      ever: 16,
    },
  ],
} as const;

/** What the simulation looks for the months of. */
export const MEASURED_MONTHS = [3, 6, 12] as const;
