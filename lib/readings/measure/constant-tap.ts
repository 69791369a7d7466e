import { median, scaledMad } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import type { TapError } from "@/lib/readings/measure/tap-errors";

/** Engineering defaults: error, agreement of the two neighbours, steadiness, and what the pack must have swept meanwhile. */
const leastErrorV = 0.05;
const sumShare = 0.2;
const steadyShare = 0.15;
const sweptV = 0.12;
/** V. An error this large in opposite directions is no charge offset even where nothing was swept. */
const hugeErrorV = 0.2;
/** The same of two that mirror each other to their last digits in every row: V, share of the error and V they may differ by. */
const mirroredErrorV = 0.08;
const mirroredShare = 0.02;
const mirroredWithinV = 0.002;
const neighbours = 3;

/**
 * A tap that is wrong by the same amount in all rows: neighbours +d and -d, whatever the charge.
 *
 * Two groups at different states of charge would change their difference along the bends of the open-circuit curve; a
 * displaced potential does not. Needs the pack to have swept some voltage, or an error too large for charge, or two
 * groups that mirror each other as closely as they are read: two that are charged otherwise do so by a chance of one in fifty and less.
 */
export function constantTaps(survey: RowSurvey): TapError[] {
  const stride = Math.max(1, Math.floor(survey.log.rows / 1500));
  const rows: number[] = [];
  for (let row = 0; row < survey.log.rows; row += stride) if (Number.isFinite(survey.referenceV[row])) rows.push(row);
  if (rows.length < 10) return [];
  const off = survey.log.cellVoltagesV.map((column) =>
    rows.map((row) => (column[row] ?? Number.NaN) - (survey.referenceV[row] ?? 0)),
  );
  const level = off.map((values) => median(values) ?? 0);
  const reference = rows.map((row) => survey.referenceV[row] ?? 0).sort((a, b) => a - b);
  const swept =
    (reference.at(Math.floor(0.98 * reference.length)) ?? 0) - (reference[Math.floor(0.02 * reference.length)] ?? 0);
  const found: TapError[] = [];
  for (let from = 0; from + 1 < level.length; from += 1) {
    const half = ((level[from] ?? 0) - (level[from + 1] ?? 0)) / 2;
    const sum = ((level[from] ?? 0) + (level[from + 1] ?? 0)) / 2;
    const size = Math.abs(half);
    if (size < leastErrorV || Math.abs(sum) > Math.max(sumShare * size, 0.01)) continue;
    const near = level.filter(
      (_, at) => at !== from && at !== from + 1 && at >= from - neighbours && at <= from + 1 + neighbours,
    );
    if (near.some((value) => Math.abs(value) >= 0.5 * size)) continue;
    const halves = (off[from] ?? []).map((value, at) => (value - (off[from + 1]?.[at] ?? 0)) / 2);
    const scatterV = scaledMad(halves) ?? Number.POSITIVE_INFINITY;
    if (scatterV > Math.max(steadyShare * size, 0.01)) continue;
    const mirroredV = mirroredWithinV + mirroredShare * size;
    const mirrored = size >= mirroredErrorV && Math.abs(sum) <= mirroredV / 2 && scatterV <= mirroredV / 2;
    if (swept < sweptV && size < hugeErrorV && !mirrored) continue;
    found.push({
      kind: "constant",
      groups: [from + 1, from + 2],
      rows: survey.log.rows,
      restRows: survey.restingS.reduce((count, restedS) => (restedS >= 0 ? count + 1 : count), 0),
      rowsJudged: survey.log.rows,
      worstV: size,
      firstRow: 0,
      lastRow: survey.log.rows - 1,
    });
  }
  return found;
}
