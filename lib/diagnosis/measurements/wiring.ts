import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Measurement } from "@/lib/diagnosis/finding";
import { counted } from "@/lib/diagnosis/wording";
import { median } from "@/lib/readings/measure/median";
import { noTemperatures } from "@/lib/readings/measure/no-temperature";
import type { PackSumPiece } from "@/lib/readings/measure/pack-sum";
import { roundingOfStep } from "@/lib/readings/measure/resolution";

/** Pack voltage against the sum of the groups, taps, and frames that came in short. */
export function wiringMeasurements(evidence: Evidence): Measurement[] {
  const { survey, sum, taps } = evidence;
  const found: Measurement[] = [];
  const roundingOfGroups = median(survey.resolutionV.map(roundingOfStep)) ?? Number.NaN;
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
        uncertainty: 1000 * errorOverParts(sum.pieces),
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
      uncertainty: 1000 * Math.SQRT1_2 * roundingOfGroups,
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
  for (const { name, rows } of noTemperatures(survey)) {
    found.push({
      name: "rows-without-temperature",
      group: null,
      value: rows,
      unit: "1",
      uncertainty: null,
      method: `rows of ${name} outside ${survey.gates.temperaturePlausibleC.join(" to ")} degC`,
      conditions: "kept, not used as a temperature: a board that wakes up, a missing sensor, an open or shorted lead",
    });
  }
  return found;
}

/** Standard error of the mean of parts weighted by what each knows, ohm; infinite where none knows its slope. */
function errorOverParts(pieces: readonly PackSumPiece[]): number {
  const weights = pieces.reduce(
    (sum, { outsideErrorOhm }) => sum + (outsideErrorOhm > 0 ? outsideErrorOhm ** -2 : 0),
    0,
  );
  return weights > 0 ? 1 / Math.sqrt(weights) : Number.POSITIVE_INFINITY;
}
