import type { LeakThresholds } from "@/lib/diagnosis/leak-thresholds";
import { type FieldsOf, field } from "@/lib/diagnosis/threshold-field";

const ecker = "The flattest part of a published curve: Ecker 2015, 45 to 50 % of charge (PyBaMM, commit 7c9f5bd).";

/** How sure a fall at rest must be, and how its millivolts become charge. */
export const leakFields: FieldsOf<LeakThresholds> = {
  sigmas: field("Fall over days of rest: over its error", "times", [3, 8]),
  shortSigmas: field("Fall over hours of rest: over its error", "times", [5, 12]),
  scatters: field("Fall: over the scatter between the groups", "times", [3, 8]),
  grossFallV: field("Fall within hours of rest that sets a pack apart", "V", [0.01, 0.03]),
  grossFallMillivoltPerDay: field("The same, as a pace", "mV a day", [50, 200]),
  driftWarmingK: field("Place that grows warmer at rest beside a drift to be watched", "K", [1, 4]),
  twoDaysFrom: field("Rest, relaxation left out, that counts as two days", "d", [1.5, 2.5]),
  watchSigmas: field("Fall to be watched: over its error", "times", [1, 4]),
  watchScatters: field("Fall of few millivolts to be watched: over the scatter between the groups", "times", [2, 6]),
  weakFallSigmas: field("Fall that makes a weak group a damaged one: over its error", "times", [2, 5]),
  endedShare: field(
    "Fall that has ended: pace in the second half of a rest over that in the first",
    "share",
    [0.1, 0.5],
  ),
  fasterTimes: field(
    "Fall that accelerates: pace in the second half of a rest over that in the first",
    "times",
    [1.5, 4],
  ),
  leastPaceMillivoltPerDay: field(
    "Fall that accelerates: pace of the first half never taken slower",
    "mV a day",
    [0.1, 1.5],
  ),
  drawSigmas: field("Leak under a common current: over its error", "times", [3, 8]),
  drawScatters: field("Leak under a common current: over the scatter between the groups", "times", [3, 8]),
  drawLeastScatterShare: field("That scatter never taken smaller, of what the current moved", "share", [0.005, 0.1]),
  unlikeFromPercent: field("Two places of a curve whose errors have nothing in common: apart", "% of charge", [2, 15]),
  leastSpanPercent: field("Slope of a curve is taken over, either way", "% of charge", [1, 5]),
  flatElsewherePercent: field("A usual curve may be flat elsewhere, either way by", "% of charge", [5, 20]),
  flattestMillivoltPerPercent: field("Flattest a curve of usual cells may be", "mV a %", [0.5, 3], ecker),
  steepBelowV: field("Voltage at rest under which usual curves are steep", "V", [3.3, 3.6]),
};
