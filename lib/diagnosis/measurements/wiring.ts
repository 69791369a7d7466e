import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { counted } from "@/lib/diagnosis/wording";

/** Pack voltage against the sum of the groups, taps, and frames that came in short. */
export function wiringMeasurements(evidence: Evidence): Measurement[] {
  const { survey, sum, taps } = evidence;
  const found: Measurement[] = [];
  if (sum.outcome === "measured") {
    const conditions = `${sum.pieces.length} parts of the log; judge its change, not its value`;
    found.push(
      {
        name: "sum-minus-pack",
        group: null,
        value: sum.baselineV * 1000,
        unit: "mV",
        uncertainty: sum.noiseV * 1000,
        method: "median of sum of groups minus pack voltage, load taken off",
        conditions,
      },
      {
        name: "resistance-outside-groups-levels",
        group: null,
        value: sum.outsideOhm * 1000,
        unit: "mOhm",
        uncertainty: null,
        method: "slope of (sum of groups - pack voltage) on current",
        conditions,
      },
    );
  }
  for (const tap of taps) {
    found.push({
      name: "tap-error",
      group: tap.groups[0] ?? null,
      value: tap.worstV * 1000,
      unit: "mV",
      uncertainty: null,
      method: "half the difference of two neighbours, baseline and load taken off",
      conditions: `${counted(tap.rows, "row")} of ${tap.rowsJudged}`,
    });
  }
  const short = survey.plausibleGroups.reduce((count, plausible) => count + (plausible < survey.groups ? 1 : 0), 0);
  if (short > 0) {
    found.push({
      name: "rows-with-implausible-groups",
      group: null,
      value: short,
      unit: "1",
      uncertainty: null,
      method: `rows with a group outside ${survey.gates.cellPlausibleV.join(" to ")} V`,
      conditions: "kept, not used for cells: truncated frames, sentinels, missing values",
    });
  }
  return found;
}
