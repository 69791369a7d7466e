import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import { sparseS } from "@/lib/readings/measure/lone-reading";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import type { ProbeFault, ProbeGates } from "@/lib/readings/measure/temperature-probes";
import type { ReadingLog } from "@/lib/readings/reading-log";

/** How the temperature of the switches is named in sentences, as the temperatures of cells are by their column. */
export const switchProbe = "Switch temperature";

/** Longest stretch of rows in which the switches stood at a limit or above. */
export interface SwitchHeat {
  readonly fromRow: number;
  readonly toRow: number;
  readonly rows: number;
  readonly overS: number;
  readonly highestC: number;
}

/**
 * The longest stretch of rows with the switches at `limitC` or above, by rows and time and not by a share of the log, so that a
 * long log hides no heat. A value above what is a temperature counts where believed warmth led up to it. `null` where there is
 * none of `leastRows`; one row is enough where rows lie far apart and the switches were warm in the row before.
 */
export function switchHeat(
  survey: RowSurvey,
  gates: Pick<AcuteGates, "leadsBeyondC" | "switchNoTemperatureC" | "noTemperatureC">,
  limitC: number,
  leastRows: number,
): SwitchHeat | null {
  const column = survey.log.mosfetTemperatureC;
  if (column === null) return null;
  const { timeS, segment } = survey.log;
  let best: SwitchHeat | null = null;
  let fromRow = -1;
  let rows = 0;
  let highestC = 0;
  let beforeC = Number.NaN;
  let warmBefore = false;
  for (let row = 0; row < column.length; row += 1) {
    const warm = column[row] ?? Number.NaN;
    if (!Number.isFinite(warm)) continue;
    if (segment[row] !== segment[row - 1]) {
      fromRow = -1;
      beforeC = Number.NaN;
    }
    const believed =
      warm <= gates.switchNoTemperatureC || (beforeC >= gates.leadsBeyondC && warm <= gates.noTemperatureC);
    if (!(warm >= limitC) || !believed) {
      fromRow = -1;
      beforeC = believed ? warm : Number.NaN;
      continue;
    }
    if (fromRow < 0) {
      fromRow = row;
      rows = 0;
      highestC = warm;
      warmBefore = beforeC >= gates.leadsBeyondC;
    }
    beforeC = warm;
    rows += 1;
    highestC = Math.max(highestC, warm);
    const enough = rows >= leastRows || (warmBefore && survey.medianIntervalS >= sparseS);
    const overS = (timeS[row] ?? 0) - (timeS[fromRow] ?? 0);
    if (enough && (best === null || overS > best.overS || rows > best.rows))
      best = { fromRow, toRow: row, rows, overS, highestC };
  }
  return best;
}

/** K by which the pack's own probes must be warmer than a reading on the low rail. Engineering default. */
const openApartK = 10;

/**
 * The probe on the switches reads what is no temperature: above what heat led up to, or on the low rail of an open input.
 * `rows` counts them all, however far apart. `null` where it does so in fewer rows than the gates ask for.
 */
export function switchProbeFault(
  { log, intervalS }: RowSurvey,
  acute: Pick<AcuteGates, "leadsBeyondC" | "switchNoTemperatureC" | "noTemperatureC">,
  gates: Pick<ProbeGates, "openBelowC" | "railRows">,
): ProbeFault | null {
  const column = log.mosfetTemperatureC;
  if (column === null) return null;
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
