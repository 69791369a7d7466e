import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import type { TemperatureColumn } from "@/lib/readings/reading-log";

/**
 * A probe that stands hot for minutes, however it came there: a log may begin in the heat, or go on after a sleep. One
 * probe alone is an unconfirmed sign. Not believed: a probe on its rail, one that jumped up between two close rows
 * while the others stay as they were, and a value above `highestC` that stands unchanged and that no heat led up to: a
 * board that wakes up sends "no sensor" (255, 511) for as long as it needs.
 */
export function heldHeat(
  { log, intervalS }: RowSurvey,
  probe: TemperatureColumn,
  others: readonly Float64Array[],
  gates: AcuteGates,
  highestC: number,
): AcuteSign | null {
  let start = -1;
  let held = 0;
  let jumped = false;
  let beforeC = Number.NaN;
  let believedC = Number.NaN;
  let noSensorC = Number.NaN;
  for (let row = 0; row < log.rows; row += 1) {
    const warm = probe.valuesC[row] ?? Number.NaN;
    if (!Number.isFinite(warm)) continue;
    const isNews = Number.isFinite(noSensorC) && warm !== noSensorC;
    if (warm > highestC && !(believedC >= gates.leadsBeyondC) && !isNews) {
      noSensorC = warm;
      continue;
    }
    believedC = warm;
    const joined = (intervalS[row] ?? 0) > 0;
    const step = warm - beforeC;
    beforeC = warm;
    const onRail = warm >= gates.probeRailC && !others.some((other) => isHot(other[row], gates));
    if (!(warm >= gates.hotC) || onRail) {
      start = -1;
      continue;
    }
    if (start < 0 || log.segment[row] !== log.segment[start]) {
      start = row;
      held = 0;
      jumped = joined && step > gates.probeStepK && (intervalS[row] ?? 0) <= gates.jumpWithinS;
    }
    held += 1;
    const overS = (log.timeS[row] ?? 0) - (log.timeS[start] ?? 0);
    if (held < gates.heldRows || overS < gates.heldS) continue;
    const from = Math.max(0, start - 1);
    const confirmed = others.some((other) => bearsOut(other, from, row, gates));
    if (jumped && !confirmed && others.some((other) => Number.isFinite(other[row]))) continue;
    const before = probe.valuesC[start] ?? warm;
    return { kind: "held-heat", row, groups: [], before, after: warm, overS, where: probe.name, confirmed };
  }
  return null;
}

function isHot(warm: number | undefined, gates: AcuteGates): boolean {
  return warm !== undefined && warm >= gates.hotC;
}

function bearsOut(other: Float64Array, from: number, row: number, gates: AcuteGates): boolean {
  const now = other[row] ?? Number.NaN;
  if (now >= gates.probeRailC) return false;
  return now >= gates.witnessC || now - (other[from] ?? Number.NaN) >= gates.witnessRiseK;
}
