/** Where a measurement becomes a finding. All are engineering defaults without authority; sources are named where one exists. */
export interface VerdictThresholds {
  /** Robust z of a group's resistance among its neighbours, and ratio to the median group, both needed. */
  readonly resistanceZ: number;
  readonly resistanceRatio: number;
  /** A ratio this high needs only `resistanceClearZ`. */
  readonly resistanceClearRatio: number;
  readonly resistanceClearZ: number;
  /** Multiple of its own standard error a group's excess must reach. */
  readonly resistanceSigmas: number;
  /** Scatter between sound groups never taken smaller than this share of the median. */
  readonly resistanceLeastScatter: number;
  /** Reduced chi square above which an excess resistance is called unsteady. */
  readonly unsteadyChiSquare: number;
  /** Share of its highest value by which an excess must also vary, warmth and charge taken out. */
  readonly unsteadyShare: number;
  /** Share of the median group's resistance by which it must vary. */
  readonly unsteadyOfMedian: number;
  /** Scatter of an excess over itself that makes a contact, and its multiple of what the median group's resistance scatters. */
  readonly contactScatterShare: number;
  readonly contactScatterRatio: number;
  /** Jumps at steady load that make a contact. */
  readonly contactJumps: number;
  /** Capacity of a group over the median group's. */
  readonly weakCapacityRatio: number;
  /** The same with a generic open-circuit curve. */
  readonly weakCapacityRatioGeneric: number;
  /** Share by which the slope of a generic curve may be wrong at one charge against another. */
  readonly genericSlopeShare: number;
  /** Ratio under which a group that is not proven weak is not called sound either. */
  readonly smallCapacityRatio: number;
  readonly weakZ: number;
  /** Scatter of capacity between sound groups never taken smaller than this share. */
  readonly weakLeastScatter: number;
  /** Multiple of its error, curve and all, a shortfall must reach; and of both errors by which two rests must differ from the fit to contradict it. */
  readonly weakSigmas: number;
  readonly weakRestSigmas: number;
  /** % of charge the log must sweep before capacity is judged from it. */
  readonly capacityWindowPercent: number;
  /** % of charge. A complaint becomes plausible at 5; a little below, because an offset is known to about 0.5. */
  readonly imbalancePercent: number;
  /** % of charge. Beyond it, do not just balance. */
  readonly severeImbalancePercent: number;
  readonly imbalanceZ: number;
  /** z that even a large offset needs: where all groups scatter as much, the reading scatters, not the charge. */
  readonly imbalanceLeastZ: number;
  /** % of charge. Scatter of sound groups never taken smaller. */
  readonly imbalanceLeastScatterPercent: number;
  /** A group told by its shape alone: V, and multiple of what groups scatter, by which one end of the charge must stand apart; share of it the other end may reach; shares of the rows that make the ends. */
  readonly shapeLeastV: number;
  readonly shapeScatters: number;
  readonly shapeOtherEndShare: number;
  readonly shapeEnds: readonly [number, number];
  /** V by which a reading must be off at every charge before it is called a fault of the reading. */
  readonly standingReadingV: number;
  /** mV per day against the median group up to which a parked group is usual; between it and the next it is watched. */
  readonly driftWatchMillivoltPerDay: number;
  /** mV per day against the median group: self-discharge, and quarantine. Field noise floor 0.08 (median), 1.16 (worst of 88). */
  readonly driftMillivoltPerDay: number;
  readonly driftQuarantineMillivoltPerDay: number;
  /** % of charge per day that is quarantine whatever the curve: 10 mV per day at half charge of a layered oxide. */
  readonly driftQuarantinePercentPerDay: number;
  /** % of charge per day that is self-discharge where the curve is flat: 3 mV per day at half charge of a layered oxide. */
  readonly driftPercentPerDay: number;
  /** % of charge per day under which a fall is no leak, however many mV it is: 5 % a month is called abnormal (diagnostics.md 1.11). */
  readonly driftHarmlessPercentPerDay: number;
  /** % of charge per day that may hide behind the drift limit before the rest is called too flat to show a leak. */
  readonly driftHiddenPercentPerDay: number;
  /** mV per day with a rest too short for the first figure. */
  readonly shortDriftMillivoltPerDay: number;
  /** % of charge per day by which a whole pack may empty while it stands: a month from full to empty. */
  readonly standingDrawPercentPerDay: number;
  /** milliohm and ratio by which the resistance outside the groups must change within one log. */
  readonly leadChangeMilliohm: number;
  readonly leadChangeRatio: number;
  /** milliohm and share of the sum of groups that is high in itself, where sampling is synchronous. */
  readonly leadHighMilliohm: number;
  readonly leadHighShare: number;
  /** Scatter of that resistance from step to step: multiple of noise, and share of the sum of groups. */
  readonly leadScatterOverNoise: number;
  readonly leadScatterShare: number;
  /** Spread of that resistance from part to part of a log: reduced chi square, milliohm and share of its mean. */
  readonly leadUnrestChiSquare: number;
  readonly leadUnrestMilliohm: number;
  readonly leadUnrestShare: number;
  /**
   * Scatter of that resistance from row to row under load beyond what readings scatter by: milliohm, share of it, share of the sum of
   * groups (what skewed sampling may leave), and multiple of its error.
   */
  readonly leadFlickerMilliohm: number;
  readonly leadFlickerShare: number;
  readonly leadFlickerOfGroups: number;
  readonly leadFlickerSureness: number;
  /** Share of the drop between groups and terminals that the current must explain before its height is believed in a log whose groups follow it poorly. */
  readonly leadExplained: number;
  /** % of charge. An offset at rest this large must have a cause before a pack is called sound. */
  readonly unexplainedPercent: number;
  /** kiloohm. ISO 6469-3 asks 100 ohm per V (d.c.): 10 kiloohm at 100 V; a sound pack reads far more (from memory). */
  readonly insulationKiloohm: number;
  /** K between sound probes, under load and after an hour of rest, beyond which something is to be looked for. */
  readonly gradientLoadK: number;
  readonly gradientRestK: number;
  /** Resistance of the middle group over that of sound packs from which the whole pack is not called sound. */
  readonly wholePackRatio: number;
  /** Share of continuous current that must have flowed before resistance is called judged. */
  readonly loadShare: number;
  /** Share of the median group's resistance to which a group's must be known before resistance is called judged. */
  readonly resistanceKnownShare: number;
  /** Shortfall by which two standard errors of a capacity may exceed the weak one's before capacity is called judged. */
  readonly capacityKnownBeyond: number;
  /** Share of the groups' resistance up to which leads, fuse and switches are good whatever the model. */
  readonly leadUnremarkableShare: number;
  /** Coverage of time below which nothing is called sound. */
  readonly timeCoverage: number;
  /** Belief under which a finding is noise beside others, and from which one takes belief from what it explains. */
  readonly worthNaming: number;
  readonly explainsFrom: number;
  /** Smallest confidence a suggestion other than cannot-tell rests on. */
  readonly suggestConfidence: number;
  /** 1/h and degC. A full discharge tells the whole pack's capacity where the cut-off is reached at no larger load and no colder. */
  readonly capacityLoadPerHour: number;
  readonly capacityWarmC: number;
  /** K either way within which a pack counts as evenly warm through a rest. */
  readonly driftWarmthK: number;
  /** degC of the switches from which they are to be watched, and from which they are at fault (case; junctions are hotter). */
  readonly switchWatchC: number;
  readonly switchFaultC: number;
  /** s, or rows, for which a switch must contradict its command to be sure of. */
  readonly switchSureS: number;
  readonly switchSureRows: number;
  /** Rows one after another in which the switches must be so hot. One alone counts in a slow log that was warm before it. */
  readonly switchHotRows: number;
  /** Coulombic efficiency of a closed loop outside which the current sensor is in question, lowest and highest. */
  readonly coulombicEfficiency: readonly [number, number];
  /** % by which heating of the switches may grow within a log. */
  readonly switchHeatingGrowthPercent: number;
  /** mV per day that each of three neighbours must lose at rest to count as drained by water. */
  readonly wetDrainMillivoltPerDay: number;
  /** mV per day. Scatter of drift between sound groups never taken smaller. */
  readonly driftLeastScatterMillivoltPerDay: number;
  /** mV against the median group above which a falling group may be bled on purpose. */
  readonly balancedAboveMillivolt: number;
  /** mV per day under which the field noise floor (worst of 88 groups 1.16) hides a leak however flat the curve. */
  readonly driftFlatMillivoltPerDay: number;
  /** V, and twice the resolution besides: an offset must have moved a reading by so much somewhere. */
  readonly imbalanceClearV: number;
  /** % of charge. An offset known no better, of a group the fit does not describe, says nothing. */
  readonly imbalancePoorPercent: number;
  /** % of charge. Where the whole log has a group no further off, and knows it, rests alone do not make it one: the curve is flat there, or a balancer drew. */
  readonly imbalanceDeniedPercent: number;
  /** milliohm. A part of the log that knows the resistance outside the groups no better says nothing. */
  readonly leadDoubtfulMilliohm: number;
  /** 1/h of rated capacity from which a difference between probes counts as one under load. */
  readonly loadedPerHour: number;
  /** s of rest from which a difference between probes counts as one at rest. */
  readonly evenedOutS: number;
  /** s of over-voltage of the whole pack from which it is a cause. */
  readonly overVoltageCauseS: number;
  /** s of charging below the window from which it is a cause. */
  readonly coldChargeCauseS: number;
  /** s of charging above the window from which it is a cause. */
  readonly hotChargeCauseS: number;
  /** s of heat in use from which it is a cause. */
  readonly hotCauseS: number;
  /** s over a discharge rating from which it is a cause. */
  readonly dischargeCurrentCauseS: number;
  /** s over the charge rating from which it is a cause. */
  readonly chargeCurrentCauseS: number;
  /** s above the end voltage from which the charger is a cause. */
  readonly chargerVoltageCauseS: number;
  /** s over the continuous current, pulses of the allowed length left out, that is a cause by itself. */
  readonly longOverloadS: number;
  /** K below the window that a cause must reach at its worst: a probe is good to one or two. */
  readonly coldByK: number;
  /** K above the window that a cause must reach at its worst. */
  readonly hotByK: number;
  /** V from the limit of the model within which a cut-off is the ordinary end of a charge or ride. */
  readonly alarmAtLimitV: number;
  /**
   * Multiples of it: how far the middle group may still be from its limit at the end of a charge and of a ride, and the first one
   * beyond. A ride ends on the steep foot of the curve and under load, so its groups lie further apart.
   */
  readonly othersAtEndOfCharge: number;
  readonly othersAtEndOfRide: number;
  readonly beyondLimit: number;
  /** Share of rated capacity under which the whole pack is called weak. */
  readonly wornOutCapacity: number;
  /** Share of rated capacity, of the pack or of a group's neighbours', under which a weak one counts as damaged. */
  readonly damagedCapacity: number;
  /** Share to which the median group's Ah must be known before a weak group's share of it says what it has left of its rating. */
  readonly packCapacityKnownShare: number;
}

export const defaultVerdictThresholds: VerdictThresholds = {
  resistanceZ: 5,
  resistanceRatio: 1.15,
  resistanceClearRatio: 1.2,
  resistanceClearZ: 3.5,
  resistanceSigmas: 4,
  resistanceLeastScatter: 0.02,
  unsteadyChiSquare: 5,
  unsteadyShare: 0.4,
  unsteadyOfMedian: 0.2,
  contactScatterShare: 0.3,
  contactScatterRatio: 2.2,
  contactJumps: 4,
  weakCapacityRatio: 0.915,
  weakCapacityRatioGeneric: 0.88,
  genericSlopeShare: 0.1,
  smallCapacityRatio: 0.92,
  weakZ: 5,
  weakLeastScatter: 0.012,
  weakSigmas: 3.2,
  weakRestSigmas: 2,
  capacityWindowPercent: 30,
  imbalancePercent: 4,
  severeImbalancePercent: 15,
  imbalanceZ: 4,
  imbalanceLeastZ: 2.5,
  imbalanceLeastScatterPercent: 0.7,
  shapeLeastV: 0.03,
  shapeScatters: 6,
  shapeOtherEndShare: 1 / 3,
  shapeEnds: [0.1, 0.9],
  standingReadingV: 0.03,
  driftWatchMillivoltPerDay: 1,
  driftMillivoltPerDay: 3,
  driftQuarantineMillivoltPerDay: 10,
  driftQuarantinePercentPerDay: 1,
  driftPercentPerDay: 0.3,
  driftHarmlessPercentPerDay: 0.15,
  driftHiddenPercentPerDay: 1,
  shortDriftMillivoltPerDay: 6,
  standingDrawPercentPerDay: 3,
  leadChangeMilliohm: 2,
  leadChangeRatio: 1.5,
  leadHighMilliohm: 6,
  leadHighShare: 0.6,
  leadScatterOverNoise: 3.5,
  leadScatterShare: 0.14,
  leadUnrestChiSquare: 6,
  leadUnrestMilliohm: 1.2,
  leadUnrestShare: 0.3,
  leadFlickerMilliohm: 0.6,
  leadFlickerShare: 0.15,
  leadFlickerOfGroups: 0.04,
  leadFlickerSureness: 4,
  leadExplained: 0.98,
  unexplainedPercent: 6,
  insulationKiloohm: 100,
  gradientLoadK: 10,
  gradientRestK: 5,
  wholePackRatio: 1.5,
  loadShare: 1 / 6,
  resistanceKnownShare: 0.06,
  capacityKnownBeyond: 0.02,
  leadUnremarkableShare: 0.1,
  timeCoverage: 0.8,
  worthNaming: 0.2,
  explainsFrom: 0.5,
  suggestConfidence: 0.5,
  capacityLoadPerHour: 1,
  capacityWarmC: 10,
  driftWarmthK: 2,
  switchWatchC: 90,
  switchFaultC: 110,
  switchSureS: 30,
  switchSureRows: 10,
  switchHotRows: 3,
  coulombicEfficiency: [0.97, 1.01],
  switchHeatingGrowthPercent: 30,
  wetDrainMillivoltPerDay: 2,
  driftLeastScatterMillivoltPerDay: 0.25,
  balancedAboveMillivolt: -1,
  driftFlatMillivoltPerDay: 1.25,
  imbalanceClearV: 0.004,
  imbalancePoorPercent: 1,
  imbalanceDeniedPercent: 2,
  leadDoubtfulMilliohm: 3,
  loadedPerHour: 0.5,
  evenedOutS: 3600,
  overVoltageCauseS: 60,
  coldChargeCauseS: 60,
  hotChargeCauseS: 1800,
  hotCauseS: 900,
  dischargeCurrentCauseS: 60,
  chargeCurrentCauseS: 120,
  chargerVoltageCauseS: 60,
  longOverloadS: 600,
  coldByK: 1,
  hotByK: 3,
  alarmAtLimitV: 0.1,
  othersAtEndOfCharge: 1.5,
  othersAtEndOfRide: 5,
  beyondLimit: 2,
  wornOutCapacity: 0.7,
  damagedCapacity: 0.6,
  packCapacityKnownShare: 0.1,
};
