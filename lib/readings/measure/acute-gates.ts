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
};
