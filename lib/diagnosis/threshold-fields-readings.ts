import { type FieldsOf, field } from "@/lib/diagnosis/threshold-field";
import type { AbuseGates } from "@/lib/readings/measure/abuse-gates";
import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import type { MeasureGates } from "@/lib/readings/measure/measure-gates";
import type { TapGates } from "@/lib/readings/measure/tap-errors";
import type { ProbeGates } from "@/lib/readings/measure/temperature-probes";

/** When a row, an interval or a pair of rows is good enough to be measured on. */
export const measureFields: FieldsOf<MeasureGates> = {
  cellPlausibleV: field("What can be the voltage of a cell, from and to", "V", [0, 5.5]),
  temperaturePlausibleC: field(
    "What can be a temperature, from and to",
    "°C",
    [-60, 250],
    'Engineering default; 255 and 511 were seen as "no value" in open vehicle logs.',
  ),
  restCurrentPerHour: field("Current that counts as rest, over rated capacity", "1/h", [0.002, 0.05]),
  parkedChangeV: field("Change over a gap that shows use meanwhile", "V", [0.01, 0.1]),
  restForSpreadS: field("Rest before groups are compared at rest", "s", [120, 7200]),
  restForOpenCircuitS: field("Rest before a voltage is read as open-circuit voltage", "s", [600, 21_600]),
  capacityWindowPercent: field("Charge between two rests before a capacity is claimed", "% of charge", [15, 80]),
  pairCurrentPerHour: field("Smallest step of current for resistance, over rated capacity", "1/h", [0.02, 0.5]),
  pairsNeeded: field("Steps of current before a resistance is stated", "count", [8, 200]),
  synchronyCorrelation: field("Agreement of voltage and current steps of a synchronous log", "ratio", [0.3, 0.9]),
  staleShare: field("Steps at which the typical group may repeat its last value", "share", [0.05, 0.5]),
  restForDriftS: field(
    "Rest before the first point of a drift",
    "s",
    [7200, 43_200],
    "Open cell measurements (SINTEF): relaxation reads as -190 to -270 mV a day before.",
  ),
  driftWindowS: field("Length of rest a drift needs", "s", [86_400, 604_800]),
  restForShortDriftS: field("Rest before the first point of a strong drift", "s", [3600, 21_600]),
  shortDriftWindowS: field("Length of rest a strong drift needs", "s", [14_400, 86_400]),
  switchContradictionS: field("Switch: how long current flows against its command", "s", [1, 30]),
  balanceCurrentA: field("Balancing current of the board", "A", [0.01, 1], "Common practice, no source."),
  currentGainShare: field("How far a current sensor may be off", "share", [0.002, 0.05]),
  drawMovedV: field("Current through a rest: move of the median group", "V", [0.002, 0.03]),
  drawMovedPercent: field("Current through a rest: the same in charge", "% of charge", [0.2, 3]),
  drawBornOut: field("Current through a rest: charge by voltage over charge counted, from and to", "ratio", [0.2, 5]),
  unloggedDrawPercentPerDay: field("Current through a rest that no sensor logged", "% of charge a day", [1, 10]),
  drawSettlesS: field("Current through a rest: relaxation passed over first", "s", [3600, 14_400]),
  drawLeastS: field("Current through a rest: time that must follow", "s", [7200, 28_800]),
  unloggedDrawS: field("Current through a rest that no sensor logged: seen over", "s", [43_200, 259_200]),
  drawSteadyShare: field("Current through a rest: pace kept in its second half", "share", [0.33, 0.8]),
  sparseS: field("Rows so far apart that one may be all of an event", "s", [5, 30]),
  loneRows: field("One reading beyond a limit: rows looked over beside it", "count", [2, 10]),
  lonePackShare: field("One reading beyond a limit: share the pack voltage shows", "share", [0.3, 0.8]),
  loneNeighbourShare: field("One reading beyond a limit: share its neighbours may give back", "share", [0.2, 0.8]),
  loneStandsV: field("One reading beyond a limit: stands as it did within", "V", [0.03, 0.3]),
  fullWithinV: field("Full: how far the median group may be below the charge limit", "V", [0.005, 0.1]),
  taperedPerHour: field("Full: what may still flow in, over rated capacity", "1/h", [0.02, 0.3]),
  channelV: field("By how much two channels of the board may differ", "V", [0.001, 0.02]),
};

/** Signs of acute danger: none may be made much blinder than usual. */
export const acuteFields: FieldsOf<AcuteGates> = {
  packFallV: field("Fall of the pack's voltage that no load explains", "V", [1, 3]),
  groupFallV: field("Fall of one group against the median at rest", "V", [0.05, 0.3]),
  groupFallS: field("Time within which it falls", "s", [300, 3600]),
  restHeatingKPerMin: field("Heating at rest", "K/min", [0.3, 1.5]),
  freshRestHeatingKPerMin: field("Heating while heat of a load may still spread", "K/min", [0.5, 3]),
  loadHeatingKPerMin: field("Heating above what losses explain, at any time", "K/min", [0.5, 3]),
  heatingS: field("How long it must go on", "s", [30, 300]),
  heatSpreadS: field("Rest after which heat of a load has spread", "s", [300, 1800]),
  hotC: field(
    "Hot in itself",
    "°C",
    [60, 85],
    "Decomposition of the anode film is reported to begin between 80 and 120 °C (secondary source).",
  ),
  fallSettledS: field("Rest before the fall of one group is looked for", "s", [60, 300]),
  impossibleFallK: field("Fall between two rows by which nothing cools", "K", [3, 10]),
  notBelievedS: field("A probe is not believed after such a fall for", "s", [600, 3600]),
  leadsBeyondC: field("Warm enough that a value beyond the probe's range is heat", "°C", [50, 70]),
  noTemperatureC: field("Above it a value is no temperature", "°C", [800, 1500]),
  probeStepK: field("Step between two rows that is a fault of the probe, not heat", "K", [8, 20]),
  probeRailC: field("Reading from which a probe may be shorted rather than hot", "°C", [120, 150]),
  switchHotC: field(
    "Switches: hot in itself",
    "°C",
    [120, 175],
    "From memory: most switches are rated to 150 or 175 °C within.",
  ),
  heldRows: field("Standing hot: rows", "count", [2, 5]),
  heldS: field("Standing hot: for", "s", [10, 120]),
  witnessC: field("Another probe bears heat out that reads", "°C", [40, 70]),
  witnessRiseK: field("Another probe bears heat out that rose by", "K", [1, 5]),
  jumpWithinS: field("Rows so close that one great step is a jump of the probe", "s", [2, 30]),
  risesNeeded: field("A rise: rising rows it is made of", "count", [2, 5]),
  largestStepShare: field("A rise: share of it that may lie in one step", "share", [0.5, 0.9]),
  steepStepK: field("A steep rise: in each of its steps", "K", [3, 10]),
  steepSteps: field("A steep rise: number of steps", "count", [2, 3]),
  steepRiseK: field("A steep rise: in all", "K", [10, 30]),
  steepLeastS: field("A steep rise: lasts at least", "s", [5, 60]),
  leapReadings: field("Leap at the end of a file: readings before it looked at", "count", [3, 20]),
  leapFootShare: field("Leap at the end of a file: share of it that counts as its foot", "share", [0.05, 0.3]),
  leapTogetherReadings: field("Leap of several probes: readings they must be hot in", "count", [1, 4]),
  collapseRows: field("Fall of one group: rows it must last", "count", [1, 5]),
  collapseOwnShare: field("Fall of one group: share that must be its own", "share", [0.3, 0.7]),
  collapsePackShare: field("Fall of one group: share the pack voltage shows", "share", [0.4, 0.8]),
  collapseNeighbourShare: field("Fall of one group: share its neighbours may give back", "share", [0.3, 0.7]),
  unreadLoadTimes: field(
    "A load no current was logged of: fall of the pack over that of all groups",
    "times",
    [1.5, 4],
  ),
  unreadLoadShare: field("A load no current was logged of: share of its voltage the pack keeps", "share", [0.5, 0.9]),
  riseOverNoise: field("A rise over what the probe flickers by", "times", [3, 10]),
  lossMultiple: field("Warming over what the pack's own losses can do", "times", [1.5, 4]),
  switchNoTemperatureC: field(
    "Switches: above it a reading is no temperature, unless heat led up to it",
    "°C",
    [180, 250],
  ),
};

const openPacks = "Engineering default; 0 rows in 95,872 of three open vehicle packs meet it.";

/** Sense wires that do not hold their potential. */
export const tapFields: FieldsOf<TapGates> = {
  leastErrorV: field("Sense wire: half the difference of the two neighbours", "V", [0.02, 0.15], openPacks),
  rowsNeeded: field("Sense wire: rows with the sign", "count", [2, 50], openPacks),
  chargeApartPercent: field("Sense wire: charge by which neighbours may differ", "% of charge", [1, 10], openPacks),
  wetRestRows: field("Water: rows at rest in which sense wires side by side jump", "count", [10, 100]),
  wetRestShare: field("Water: such rows, of all in which they jump", "share", [0.5, 1]),
};

/** Electrical faults of temperature probes. */
export const probeFields: FieldsOf<ProbeGates> = {
  openBelowC: field("Open probe: reads below", "°C", [-60, -25]),
  shortAboveC: field("Shorted probe: reads above", "°C", [115, 200]),
  railRows: field("Rows at such a reading", "count", [2, 100]),
  railRun: field("Rows of it one after another", "count", [2, 20]),
  railShare: field("Or rows of it, of all rows", "share", [0.001, 0.1]),
  movingRows: field(
    "Switches: rows off its usual value in which a probe must read a temperature to be one",
    "count",
    [3, 60],
  ),
  movingValues: field("Switches: different temperatures it must read", "count", [2, 10]),
  stuckS: field("Stuck probe: no movement for", "s", [600, 14_400]),
  stuckRangeK: field("Stuck probe: within", "K", [0, 0.5]),
  othersMoveK: field("Stuck probe: while others move by", "K", [2, 15]),
  identicalSteps: field("Never changing: steps of the others' resolution", "count", [4, 50]),
  identicalMoveK: field("Never changing: while others move by", "K", [0.5, 5]),
  jumpK: field("Jumping probe: between neighbouring rows", "K", [4, 30]),
  jumps: field("Jumping probe: number of jumps", "count", [2, 20]),
  offsetK: field("Shifted probe: against the others after long rest", "K", [3, 20]),
};

/** Use outside the limits. */
export const abuseFields: FieldsOf<AbuseGates> = {
  overDischargeV: field(
    "Over-discharge: volts of a cell",
    "V",
    [2, 3],
    "Data sheets of cells: not to be discharged below 2.50 V.",
  ),
  deepV: field(
    "Deep discharge: volts of a cell",
    "V",
    [1.5, 2.5],
    "Copper of the collector is reported to dissolve when held below (Sci. Rep. 6:30248).",
  ),
  deepLoadPerHour: field(
    "Load that sags so little that it counts as rest there, over rated capacity",
    "1/h",
    [0.02, 0.2],
  ),
  layeredFromV: field(
    "Charge limit of a cell from which the voltages above hold whatever the model's own limit",
    "V",
    [3.7, 4.3],
    "Layered oxides are charged to 4.1 V and more, iron phosphate to 3.65 V (common practice, no source).",
  ),
  layeredLeastV: field(
    "Discharge limit of a cell under which they do not hold, whatever it is charged to",
    "V",
    [1.6, 2.4],
    "Sodium-ion is used down to 1.5 V, layered oxide to 2.5 V (common practice, no source).",
  ),
  overBelowLimitV: field(
    "Over-discharge under load, and of other chemistries: under the model's own limit",
    "V",
    [0, 0.3],
  ),
  deepBelowLimitV: field("Deep discharge of other chemistries: under the model's own limit", "V", [0.1, 0.6]),
  lethalBelowLimitV: field("One reading counts, of other chemistries: under the model's own limit", "V", [0.2, 0.8]),
  deepS: field("Deep discharge: rest below it", "s", [600, 14_400]),
  lethalV: field("One reading counts, however short", "V", [1, 2], "From memory: copper is held to have dissolved."),
  overVoltageV: field("Over the model's charge limit", "V", [0.01, 0.1]),
  criticalOverV: field("Over the charge limit from which even seconds count", "V", [0.05, 0.2]),
  overVoltageS: field("Over a limit of voltage for", "s", [1, 30]),
  temperatureMarginK: field("Outside the model's charge window", "K", [0, 5]),
  hotC: field("Hot in use", "°C", [45, 70]),
  hotFullC: field("Hot while nearly full", "°C", [35, 60]),
  hotFullPercent: field("Nearly full: charge", "% of charge", [80, 100]),
  overCurrent: field("Over a rated current", "ratio", [1, 1.5]),
  chargerExcessV: field("Wrong charger: over the pack's charge limit", "V", [0.2, 2]),
  emptyV: field("Stored empty: volts of the median group", "V", [2, 3.3]),
  emptyPercent: field("Stored empty: charge", "% of charge", [1, 15]),
  emptyS: field("Stored empty: how long", "s", [86_400, 7_776_000]),
};
