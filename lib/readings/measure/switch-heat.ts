import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import type { ProbeFault, ProbeGates } from "@/lib/readings/measure/temperature-probes";
import type { ReadingLog } from "@/lib/readings/reading-log";

/** How the temperature of the switches is named in sentences, as the temperatures of cells are by their column. */
export const switchProbe = "Switch temperature";

/** Longest stretch of rows in which the switches stood at a limit or above, short breaks in which they stay warm included. */
export interface SwitchHeat {
  readonly fromRow: number;
  readonly toRow: number;
  /** Rows at the limit or above, and s from the first to the last of them. */
  readonly rows: number;
  readonly overS: number;
  /** Rows below the limit lie between them. */
  readonly isBroken: boolean;
  /** Highest of all such stretches, not of the longest alone. */
  readonly highestC: number;
}

type HeatGates = Pick<AcuteGates, "leadsBeyondC" | "switchNoTemperatureC" | "noTemperatureC">;

/** s below the limit that break no stretch while the switches stay warm: pulses of load heat and cool them by turns. Engineering default. */
const breakS = 60;

/**
 * The longest stretch of rows with the switches at `limitC` or above, by rows and time and not by a share of the log, so that a
 * long log hides no heat. A value above what is a temperature counts where believed warmth led up to it. `null` where there is
 * none of `leastRows`; one row is enough where rows lie far apart and the switches were warm in the row before.
 */
export function switchHeat(survey: RowSurvey, gates: HeatGates, limitC: number, leastRows: number): SwitchHeat | null {
  const { timeS } = survey.log;
  let best: SwitchHeat | null = null;
  let highestC = 0;
  for (const { hotRows, warmBefore, highestC: here } of stretches(survey, gates, limitC)) {
    if (hotRows.length < leastRows && !(warmBefore && survey.medianIntervalS >= survey.gates.sparseS)) continue;
    const fromRow = hotRows[0] ?? 0;
    const toRow = hotRows.at(-1) ?? fromRow;
    const overS = (timeS[toRow] ?? 0) - (timeS[fromRow] ?? 0);
    const rows = hotRows.length;
    highestC = Math.max(highestC, here);
    if (best === null || overS > best.overS || (overS === best.overS && rows > best.rows))
      best = { fromRow, toRow, rows, overS, isBroken: toRow - fromRow >= rows, highestC };
  }
  return best === null ? null : { ...best, highestC };
}

/** All rows at the limit or above, however far apart, and the highest of them: too short each time to be a stretch, and heat all the same. */
export function switchHeatInAll(
  survey: RowSurvey,
  gates: HeatGates,
  limitC: number,
): { rows: number; highestC: number } {
  const all = { rows: 0, highestC: 0 };
  for (const { hotRows, highestC } of stretches(survey, gates, limitC)) {
    all.rows += hotRows.length;
    all.highestC = Math.max(all.highestC, highestC);
  }
  return all;
}

interface Stretch {
  readonly hotRows: number[];
  readonly warmBefore: boolean;
  highestC: number;
}

/** Rows at the limit or above, parted where the switches cool down, where they stay below it for longer, and at a new clock segment. */
function stretches(survey: RowSurvey, gates: HeatGates, limitC: number): Stretch[] {
  const column = survey.log.mosfetTemperatureC;
  if (column === null) return [];
  const { timeS, segment } = survey.log;
  const found: Stretch[] = [];
  let open: Stretch | null = null;
  let beforeC = Number.NaN;
  for (let row = 0; row < column.length; row += 1) {
    const warm = column[row] ?? Number.NaN;
    if (!Number.isFinite(warm)) continue;
    if (segment[row] !== segment[row - 1]) {
      open = null;
      beforeC = Number.NaN;
    }
    const believed =
      warm <= gates.switchNoTemperatureC || (beforeC >= gates.leadsBeyondC && warm <= gates.noTemperatureC);
    if (warm >= limitC && believed) {
      // The row before may be a break: it ends the stretch only where it cooled or lasted.
      if (open !== null && beforeC < limitC && (timeS[row] ?? 0) - (timeS[open.hotRows.at(-1) ?? row] ?? 0) > breakS)
        open = null;
      if (open === null) {
        open = { hotRows: [], warmBefore: beforeC >= gates.leadsBeyondC, highestC: warm };
        found.push(open);
      }
      open.hotRows.push(row);
      open.highestC = Math.max(open.highestC, warm);
    } else if (!(believed && warm >= gates.leadsBeyondC)) open = null;
    beforeC = believed ? warm : Number.NaN;
  }
  return found;
}

/** K by which the pack's own probes must be warmer than a reading on the low rail. Engineering default. */
const openApartK = 10;

/** What the switches' column reads where it measures nothing: its usual value, and whether it is in every row. */
export interface NothingMeasured {
  readonly readsC: number;
  readonly throughout: boolean;
}

/**
 * A board without the probe writes one number in every row, or in all but a few odd ones; null where the column ever reads a believable
 * temperature that moves, or holds no value.
 */
export function measuresNothing(
  column: Float64Array | null,
  acute: Pick<AcuteGates, "switchNoTemperatureC">,
  gates: Pick<ProbeGates, "openBelowC" | "movingRows" | "movingValues">,
): NothingMeasured | null {
  const rowsOf = new Map<number, number>();
  for (const value of column ?? []) {
    if (!Number.isFinite(value)) continue;
    rowsOf.set(value, (rowsOf.get(value) ?? 0) + 1);
    // A column that measures takes many values: it is known for one long before its end.
    if (rowsOf.size > valuesOfNoProbe) return null;
  }
  const usual = [...rowsOf].toSorted(([, a], [, b]) => b - a)[0];
  if (usual === undefined) return null;
  const [readsC] = usual;
  const believed = [...rowsOf].filter(([warm]) => warm > gates.openBelowC && warm <= acute.switchNoTemperatureC);
  const others = believed.filter(([warm]) => warm !== readsC);
  const moves =
    believed.length >= gates.movingValues && others.reduce((sum, [, rows]) => sum + rows, 0) >= gates.movingRows;
  return moves ? null : { readsC, throughout: rowsOf.size === 1 };
}

/** Different values beyond which a column measures something. Engineering default: odd rows of a board without a probe hold a few. */
const valuesOfNoProbe = 16;

/**
 * The probe on the switches reads what is no temperature: above what heat led up to, or on the low rail of an open input.
 * `rows` counts them all, however far apart. `null` where it does so in fewer rows than the gates ask for, and where it
 * never measured anything: a board that carries no such probe does so too.
 */
export function switchProbeFault(
  { log, intervalS }: RowSurvey,
  acute: Pick<AcuteGates, "leadsBeyondC" | "switchNoTemperatureC" | "noTemperatureC">,
  gates: Pick<ProbeGates, "openBelowC" | "railRows" | "movingRows" | "movingValues">,
): ProbeFault | null {
  const column = log.mosfetTemperatureC;
  if (column === null || measuresNothing(column, acute, gates) !== null) return null;
  const found = { short: { rows: 0, durationS: 0, readingC: 0 }, open: { rows: 0, durationS: 0, readingC: 0 } };
  let beforeC = Number.NaN;
  for (let row = 0; row < column.length; row += 1) {
    const warm = column[row] ?? Number.NaN;
    if (!Number.isFinite(warm)) continue;
    const isHeat = beforeC >= acute.leadsBeyondC && warm <= acute.noTemperatureC;
    const kind = warm > acute.switchNoTemperatureC && !isHeat ? "short" : warm <= gates.openBelowC ? "open" : null;
    beforeC = kind === null ? warm : Number.NaN;
    if (kind === null || (kind === "open" && !(warmestOf(log, row) >= warm + openApartK))) continue;
    found[kind].rows += 1;
    found[kind].durationS += intervalS[row] ?? 0;
    found[kind].readingC = warm;
  }
  const kind = found.short.rows >= gates.railRows ? "short" : found.open.rows >= gates.railRows ? "open" : null;
  return kind === null ? null : { probe: switchProbe, kind, ...found[kind], othersC: Number.NaN };
}

function warmestOf({ temperatures }: ReadingLog, row: number): number {
  let warmest = Number.NEGATIVE_INFINITY;
  for (const { valuesC } of temperatures) {
    const warm = valuesC[row] ?? Number.NaN;
    if (warm > warmest) warmest = warm;
  }
  return warmest;
}
