import { median } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { oncePer } from "@/lib/readings/once-per";

export interface RestPeriod {
  readonly startRow: number;
  /** Last row of the rest. */
  readonly endRow: number;
  readonly restedS: number;
  readonly stretch: number;
  /** Charge counted at the end of the rest, Ah; comparable within one stretch. */
  readonly chargeAh: number;
  /** Median voltage of each group over the last rows of the rest, V; NaN where not plausible. */
  readonly groupV: Float64Array;
  /** Median group at the end of the rest, V. */
  readonly referenceV: number;
}

/** Rows at the end of a rest whose median stands for its voltage: enough to lower noise, few enough not to blur drift. */
const rowsAtEnd = 15;

/** Rests of at least `shortestS`, which is more than 0, in order, each with its voltages at the end. */
export function restPeriods(survey: RowSurvey, shortestS: number): RestPeriod[] {
  const { restingS } = survey;
  return restedRows(restingS).flatMap(({ startRow, endRow }) => {
    const rest = (restingS[endRow] ?? 0) >= shortestS ? describe(survey, startRow, endRow) : null;
    return rest === null ? [] : [rest];
  });
}

/** First and last row of every rest that lasted, in order, by the s of rest of each row. */
const restedRows = oncePer((restingS: Float64Array): { readonly startRow: number; readonly endRow: number }[] => {
  const rests: { startRow: number; endRow: number }[] = [];
  let startRow = -1;
  const close = (endRow: number) => {
    if (startRow >= 0 && (restingS[endRow] ?? 0) > 0) rests.push({ startRow, endRow });
  };
  for (let row = 0; row < restingS.length; row += 1) {
    const rested = restingS[row] ?? -1;
    if (rested <= 0) close(row - 1);
    if (rested < 0) startRow = -1;
    else if (rested === 0 || startRow < 0) startRow = row;
  }
  close(restingS.length - 1);
  return rests;
});

function describe(survey: RowSurvey, startRow: number, endRow: number): RestPeriod | null {
  const from = Math.max(startRow, endRow - rowsAtEnd + 1);
  const [low, high] = survey.gates.cellPlausibleV;
  const groupV = new Float64Array(survey.groups);
  for (const [index, column] of survey.log.cellVoltagesV.entries()) {
    const last = column.subarray(from, endRow + 1).filter((voltage) => voltage >= low && voltage <= high);
    groupV[index] = median(last) ?? Number.NaN;
  }
  const referenceV = median(survey.referenceV.subarray(from, endRow + 1));
  if (referenceV === null) return null;
  return {
    startRow,
    endRow,
    restedS: survey.restingS[endRow] ?? 0,
    stretch: survey.stretch[endRow] ?? 0,
    chargeAh: survey.chargeAh[endRow] ?? 0,
    groupV,
    referenceV,
  };
}
