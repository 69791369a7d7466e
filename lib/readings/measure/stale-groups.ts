import { steps } from "@/lib/readings/measure/group-resistance";
import { median } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Resolution steps a voltage must be expected to move before standing still is strange. Engineering default. */
const expectedSteps = 4;

/**
 * Share of the load steps at which the typical group repeats its last value to the bit although the step must have moved
 * it by several steps of its resolution: a monitor that refreshes a few groups at a time (seen in an open vehicle log,
 * BatICM/unsupervised-battery-faults file 1). 0 in a log sampled at once; `null` for fewer than 10 telling steps.
 */
export function staleShare(survey: RowSurvey, rows: Int32Array, ohm: number): number | null {
  const amps = steps(rows, survey.log.currentA);
  const shares = survey.log.cellVoltagesV.map((column, index) => {
    const stepV = steps(rows, column);
    const leastV = expectedSteps * Math.max(survey.resolutionV[index] ?? 0, 0.0005);
    let telling = 0;
    let still = 0;
    for (let place = 0; place < amps.length; place += 1) {
      if (!(Math.abs(amps[place] ?? Number.NaN) * ohm >= leastV) || Number.isNaN(stepV[place])) continue;
      telling += 1;
      if (Math.abs(stepV[place] ?? 0) < 1e-7) still += 1;
    }
    return telling < 10 ? Number.NaN : still / telling;
  });
  return median(shares);
}
