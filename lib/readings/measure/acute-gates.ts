/** Triggers of the acute screen. Engineering defaults without authority unless a line names a source. */
export interface AcuteGates {
  /** V. Pack-voltage fall not explained by load that counts as losing a cell. */
  readonly packFallV: number;
  /** V against the median group, within `groupFallS`, at rest. */
  readonly groupFallV: number;
  /** s. */
  readonly groupFallS: number;
  /** K/min, sustained for `heatingS` at rest. */
  readonly restHeatingKPerMin: number;
  /** K/min; the trigger while heat of a load may still be spreading. */
  readonly freshRestHeatingKPerMin: number;
  /** K/min above what the losses of the pack explain; the trigger at any time. */
  readonly loadHeatingKPerMin: number;
  /** s. */
  readonly heatingS: number;
  /** s of rest after which heat of a load has spread to the probes. */
  readonly heatSpreadS: number;
  /** degC. Decomposition of the anode film is reported to begin between 80 and 120 degC (secondary source). */
  readonly hotC: number;
  /** s of rest before a fall of one group is looked for: earlier, the load is still fading. */
  readonly fallSettledS: number;
  /** K between two rows by which nothing cools, and s for which a probe is not believed after such a fall. */
  readonly impossibleFallK: number;
  readonly notBelievedS: number;
  /** degC. From a believed reading this warm on, a value beyond what a probe can read is heat, not a sentinel; and above the second it is no temperature. */
  readonly leadsBeyondC: number;
  readonly noTemperatureC: number;
  /** K between two rows: more with no rows between is an electrical fault of the probe rather than heat. */
  readonly probeStepK: number;
  /** degC. From here on a probe alone may be shorted rather than hot. */
  readonly probeRailC: number;
  /** degC of the switches from which board and solder may burn and a switch is no switch any more: most silicon is rated to 150 or 175 (from memory). */
  readonly switchHotC: number;
  /** degC. Above it a reading of the switches is no temperature, unless heat led up to it. */
  readonly switchNoTemperatureC: number;
  /**
   * Warming at rest that has not stopped where the log ends: K in all and K/min of one probe, and the same by which it must leave the
   * others behind to be no place's doing. What a place can do is (place - pack) / time: degC of a room on a warm day and of the hottest
   * place a pack is left in (a closed vehicle, the sun), and s in which a pack of this size follows its surroundings at the fastest.
   */
  readonly selfHeatingRiseK: number;
  readonly selfHeatingKPerMin: number;
  readonly selfHeatingAloneK: number;
  readonly selfHeatingAloneKPerMin: number;
  readonly warmRoomC: number;
  readonly hotPlaceC: number;
  readonly placeTimeS: number;
  /** Rows and s a probe must stand hot. */
  readonly heldRows: number;
  readonly heldS: number;
  /** degC, and K up since the probe became hot: another probe that shows it bears the heat out. */
  readonly witnessC: number;
  readonly witnessRiseK: number;
  /** s between rows up to which one great step is a jump of the probe unless another probe warms with it. */
  readonly jumpWithinS: number;
  /** Rising samples a rise must be made of: fewer is a jump, and a jump is a fault of the probe; and the share of it that may lie in one step. */
  readonly risesNeeded: number;
  readonly largestStepShare: number;
  /** K in one step, steps, K in all and s of a rise too steep for the sampling to follow it. */
  readonly steepStepK: number;
  readonly steepSteps: number;
  readonly steepRiseK: number;
  readonly steepLeastS: number;
  /** Readings of a probe before its first hot one among which the foot of a leap is looked for, and share of the leap up to which one stands at its foot. */
  readonly leapReadings: number;
  readonly leapFootShare: number;
  /** Readings in which probes must be hot together: one row may be a cut frame. */
  readonly leapTogetherReadings: number;
  /** Fall of one group: rows in which it must be seen to last, where the log goes on; shares of it that must be the group's own, that the pack voltage shows and a wiring fault does not, and that neighbours may give back. */
  readonly collapseRows: number;
  readonly collapseOwnShare: number;
  readonly collapsePackShare: number;
  readonly collapseNeighbourShare: number;
  /**
   * Without a logged current: multiple of what all groups together fall by from which a fall of the pack voltage is none of theirs, and share of
   * the voltage at rest that no load takes a pack under: less is a switch that opened, or half a pack that was read.
   */
  readonly unreadLoadTimes: number;
  readonly unreadLoadShare: number;
  /** Multiple of a probe's own row-to-row noise a rise must exceed. */
  readonly riseOverNoise: number;
  /** Multiple of what the pack's own losses can do: cells age, and a joint or a probe may sit in the warmest place. */
  readonly lossMultiple: number;
}

export const defaultAcuteGates: AcuteGates = {
  packFallV: 2.5,
  groupFallV: 0.2,
  groupFallS: 900,
  restHeatingKPerMin: 1,
  freshRestHeatingKPerMin: 2,
  loadHeatingKPerMin: 2,
  heatingS: 180,
  heatSpreadS: 900,
  hotC: 80,
  fallSettledS: 120,
  impossibleFallK: 5,
  notBelievedS: 3600,
  leadsBeyondC: 60,
  noTemperatureC: 1200,
  probeStepK: 10,
  probeRailC: 125,
  switchHotC: 150,
  switchNoTemperatureC: 200,
  selfHeatingRiseK: 5,
  selfHeatingKPerMin: 0.1,
  selfHeatingAloneK: 10,
  selfHeatingAloneKPerMin: 0.2,
  warmRoomC: 30,
  hotPlaceC: 70,
  placeTimeS: 3600,
  heldRows: 5,
  heldS: 60,
  witnessC: 60,
  witnessRiseK: 3,
  jumpWithinS: 20,
  risesNeeded: 3,
  largestStepShare: 0.7,
  steepStepK: 5,
  steepSteps: 2,
  steepRiseK: 20,
  steepLeastS: 20,
  leapReadings: 5,
  leapFootShare: 0.1,
  leapTogetherReadings: 2,
  collapseRows: 3,
  collapseOwnShare: 0.5,
  collapsePackShare: 0.6,
  collapseNeighbourShare: 0.5,
  unreadLoadTimes: 2,
  unreadLoadShare: 0.7,
  riseOverNoise: 6,
  lossMultiple: 3,
};
