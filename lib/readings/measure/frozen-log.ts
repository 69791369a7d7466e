import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Rows in which every analog value repeats itself while current flows. */
export interface FrozenLogRun {
  readonly fromRow: number;
  readonly toRow: number;
  readonly durationS: number;
  /** A, the current that is said to have flowed throughout; its mean where only the groups stand still. */
  readonly currentA: number;
  /** The groups alone stand still, and so much charge flowed meanwhile; left out where the whole log does. */
  readonly groupsOnly?: { readonly flowedAh: number };
}

/** Samples and A from which a logger is asked whether it stands still. Engineering defaults. */
const longestSoundRun = 20;
const flowingA = 1;
/** Share of rows at a like current that may repeat the row before, and such rows needed to know it. Engineering defaults. */
const usuallyRepeats = 0.3;
const rowsToKnow = 100;
const likeCurrent = 0.2;
/** Share of rated capacity whose flow moves some group by a step of any resolution. Engineering default. */
const movesEveryLog = 0.03;

/**
 * Runs of more than twenty rows in which voltages, current and temperatures are bit-identical while more than 1 A flows: the
 * logger stands still. Cells do repeat themselves under a small steady current and a coarse resolution; so either rows at
 * such a current seldom repeat in this log, or more charge would have flowed than any cell keeps its voltage over.
 */
export function frozenLogRuns(survey: RowSurvey): FrozenLogRun[] {
  const { log, intervalS } = survey;
  const columns = [log.currentA, log.packVoltageV, ...log.cellVoltagesV, ...log.temperatures.map((one) => one.valuesC)];
  const runs: FrozenLogRun[] = [];
  let start = 0;
  for (let row = 1; row <= log.rows; row += 1) {
    // A run through which nothing flows is none: only rows with a current are compared with the row before.
    const flows = Math.abs(log.currentA[row] ?? Number.NaN) > flowingA;
    if (flows && (intervalS[row] ?? 0) > 0 && repeats(columns, row)) continue;
    if (row - start > longestSoundRun && Math.abs(log.currentA[start] ?? 0) > flowingA) {
      const durationS = (log.timeS[row - 1] ?? 0) - (log.timeS[start] ?? 0);
      runs.push({ fromRow: start, toRow: row - 1, durationS, currentA: log.currentA[start] ?? 0 });
    }
    start = row;
  }
  return runs.filter((run) => standsStill(survey, columns, run, runs));
}

function repeats(columns: readonly Float64Array[], row: number): boolean {
  for (const column of columns) {
    const now = column[row] ?? Number.NaN;
    const before = column[row - 1] ?? Number.NaN;
    if (now !== before && !(Number.isNaN(now) && Number.isNaN(before))) return false;
  }
  return true;
}

function standsStill(
  survey: RowSurvey,
  columns: readonly Float64Array[],
  run: FrozenLogRun,
  runs: readonly FrozenLogRun[],
): boolean {
  const flowedAh = (Math.abs(run.currentA) * run.durationS) / 3600;
  if (flowedAh >= movesEveryLog * survey.ratedCapacityAh) return true;
  const { currentA, rows } = survey.log;
  let like = 0;
  let repeated = 0;
  let next = 0;
  for (let row = 1; row < rows; row += 1) {
    while (next < runs.length && (runs[next]?.toRow ?? 0) < row) next += 1;
    if (row >= (runs[next]?.fromRow ?? rows)) continue;
    const unlike = Math.abs((currentA[row] ?? Number.NaN) - run.currentA);
    if (!(unlike <= likeCurrent * Math.abs(run.currentA)) || !((survey.intervalS[row] ?? 0) > 0)) continue;
    like += 1;
    if (repeats(columns, row)) repeated += 1;
  }
  return like >= rowsToKnow && repeated <= usuallyRepeats * like;
}

/** The survey with rows that stand still made void: no rest, no time and no charge runs through them. */
export function withoutFrozenRows(survey: RowSurvey, runs: readonly FrozenLogRun[]): RowSurvey {
  if (runs.length === 0) return survey;
  const intervalS = survey.intervalS.slice();
  const restingS = survey.restingS.slice();
  const stretch = survey.stretch.slice();
  for (const { fromRow, toRow } of runs) {
    intervalS.fill(0, fromRow + 1, toRow + 2);
    restingS.fill(-1, fromRow, toRow + 1);
    for (let row = toRow + 1; row < stretch.length; row += 1) stretch[row] = (stretch[row] ?? 0) + 1;
  }
  return { ...survey, intervalS, restingS, stretch };
}
