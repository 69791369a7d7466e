import { currentPairs } from "@/lib/readings/measure/current-pairs";
import { quantile } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** ohm. Assumed where the log has too few load steps to measure it: generous. */
const assumedOhm = 0.001;
/** Load steps needed, share of rated capacity per h a step must have, and the multiple of the typical that is allowed. */
const stepsNeeded = 20;
const stepPerHour = 0.3;
const multiple = 6;

/**
 * How far apart a load step throws two groups in one row, ohm: groups sampled one after the other differ by up to
 * R · ΔI although nothing is wrong with them. The 80 % quantile, over load steps, of the typical group's step of
 * deviation over the step of current; generous by a factor. Engineering defaults.
 */
export function samplingSkewOhm(survey: RowSurvey): number {
  const rows = currentPairs(survey, stepPerHour * survey.ratedCapacityAh, Math.max(1.6 * survey.medianIntervalS, 2));
  if (rows.length < stepsNeeded) return assumedOhm;
  const thrown: number[] = [];
  for (const row of rows) {
    const amps = Math.abs((survey.log.currentA[row] ?? 0) - (survey.log.currentA[row - 1] ?? 0));
    const apart = survey.log.cellVoltagesV.map((column) =>
      Math.abs(
        (column[row] ?? Number.NaN) -
          (column[row - 1] ?? Number.NaN) -
          (survey.referenceV[row] ?? 0) +
          (survey.referenceV[row - 1] ?? 0),
      ),
    );
    thrown.push((quantile(Float64Array.from(apart), 0.5) ?? 0) / amps);
  }
  return multiple * (quantile(Float64Array.from(thrown), 0.8) ?? assumedOhm);
}
