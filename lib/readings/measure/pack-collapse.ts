import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import { wasDrained } from "@/lib/readings/measure/drained-groups";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Rows looked at after a fall for whether it lasts. */
const rowsAfter = 6;
/** Share of the voltage before that must be left: below it the output was switched off, which is no emergency. */
const outputStillOn = 0.25;
/** V. A group this far below the median of its row counts as lost. */
const groupLostV = 1;

/**
 * Falls of the pack voltage by a cell or more, not explained by load, while some groups stop giving sense.
 *
 * Works on raw rows: an emergency consists of missing and impossible values, and a cleaner would delete it (seen in
 * BatICM/unsupervised-battery-faults file 3, MIT). A truncated frame loses groups but not pack voltage, an open tap
 * moves groups but not pack voltage, a switched-off output loses pack voltage but no group, a group that was emptied
 * sinks with the charge that leaves it: none of them is reported. A monitor that falls silent with all its groups in that
 * moment is an unconfirmed sign.
 */
export function packCollapses(survey: RowSurvey, packOhm: number, gates: AcuteGates): AcuteSign[] {
  const { log, plausibleGroups, groups } = survey;
  const signs: AcuteSign[] = [];
  let good = -1;
  for (let row = 0; row < log.rows; row += 1) {
    const volt = log.packVoltageV[row] ?? Number.NaN;
    if (!Number.isFinite(volt)) continue;
    const whole = (plausibleGroups[row] ?? 0) === groups;
    if (good >= 0 && isCollapse(survey, good, row, packOhm, gates)) {
      const lost = lostGroups(survey, good, row).filter((group) => !wasDrained(survey, group, row));
      const lasting = lasts(survey, good, row, packOhm, gates);
      const silenced = lost.length === groups;
      if (lost.length > 0 && (silenced ? diedWithIt(survey, good, row, gates) : true) && lasting !== "no") {
        signs.push({
          kind: "pack-collapse",
          row,
          groups: lost,
          before: log.packVoltageV[good] ?? Number.NaN,
          after: volt,
          overS: (log.timeS[row] ?? 0) - (log.timeS[good] ?? 0),
          where: "",
          confirmed: lasting === "yes" && !silenced,
        });
        return signs;
      }
    }
    if (whole || good < 0) good = row;
  }
  return signs;
}

/** s, and sampling intervals: the last whole row must lie this close to a fall in which every group goes silent. Engineering defaults. */
const silencedWithinS = 60;
const silencedIntervals = 3;
/** Rows in which the pack voltage must stand after the fall: an output that was switched off goes on falling. Engineering default. */
const rowsStanding = 2;

/**
 * Every group is silent at once: either the monitor died in an emergency, or it was switched off. It died where no switch
 * was off and no load ran, the pack voltage still stands at its lower level to the end, and no group ever reads again.
 */
function diedWithIt(survey: RowSurvey, good: number, row: number, gates: AcuteGates): boolean {
  const { log, plausibleGroups, medianIntervalS, restCurrentA } = survey;
  const overS = (log.timeS[row] ?? 0) - (log.timeS[good] ?? 0);
  if (overS > Math.max(silencedWithinS, silencedIntervals * medianIntervalS)) return false;
  if (log.dischargeSwitch?.[row] === 0 || log.dischargeSwitch?.[good] === 0) return false;
  const fallen = log.packVoltageV[row] ?? Number.NaN;
  let standing = 0;
  for (let later = row; later < log.rows; later += 1) {
    if ((plausibleGroups[later] ?? 0) > 0 || Math.abs(log.currentA[later] ?? 0) > restCurrentA) return false;
    const volt = log.packVoltageV[later] ?? Number.NaN;
    if (later === row || !Number.isFinite(volt)) continue;
    if (fallen - volt > gates.packFallV) return false;
    standing += 1;
  }
  return standing >= rowsStanding;
}

function isCollapse(survey: RowSurvey, good: number, row: number, packOhm: number, gates: AcuteGates): boolean {
  const { packVoltageV } = survey.log;
  const before = packVoltageV[good] ?? Number.NaN;
  const now = packVoltageV[row] ?? Number.NaN;
  return before - now >= gates.packFallV + explainedV(survey, good, row, packOhm) && now > outputStillOn * before;
}

/** Load that began between the rows explains this much; doubled, because resistance at rest of the day is uncertain. */
function explainedV(survey: RowSurvey, good: number, row: number, packOhm: number): number {
  const { currentA } = survey.log;
  const before = currentA[good] ?? Number.NaN;
  const now = currentA[row] ?? Number.NaN;
  if (!Number.isFinite(before + now)) return 0;
  const beforeReference = survey.referenceV[good] ?? Number.NaN;
  const nowReference = survey.referenceV[row] ?? Number.NaN;
  // Groups that still give sense show what every group lost by load and use.
  const common = Math.max(0, beforeReference - nowReference) * survey.groups;
  return Math.max(2 * packOhm * Math.max(0, before - now), Number.isFinite(common) ? 1.2 * common : 0);
}

/** Groups with no sensible value, or far below the median, in the row where before they were sound. */
function lostGroups(survey: RowSurvey, good: number, row: number): number[] {
  const [low, high] = survey.gates.cellPlausibleV;
  const reference = survey.referenceV[row] ?? survey.referenceV[good] ?? Number.NaN;
  const lost: number[] = [];
  for (const [index, column] of survey.log.cellVoltagesV.entries()) {
    const before = column[good] ?? Number.NaN;
    const now = column[row] ?? Number.NaN;
    const was = before >= low && before < high;
    const is = now >= low && now < high && !(now < reference - groupLostV);
    if (was && !is) lost.push(index + 1);
  }
  return lost;
}

function lasts(
  survey: RowSurvey,
  good: number,
  row: number,
  packOhm: number,
  gates: AcuteGates,
): "yes" | "no" | "unseen" {
  let seen = 0;
  let down = 0;
  for (let later = row + 1; later < survey.log.rows && seen < rowsAfter; later += 1) {
    if (!Number.isFinite(survey.log.packVoltageV[later])) continue;
    seen += 1;
    const before = survey.log.packVoltageV[good] ?? 0;
    const fall = before - (survey.log.packVoltageV[later] ?? 0);
    const stillLost = lostGroups(survey, good, later).length > 0;
    if (stillLost && fall >= 0.8 * gates.packFallV + explainedV(survey, good, later, packOhm)) down += 1;
  }
  if (seen === 0) return "unseen";
  return down >= 0.5 * seen ? "yes" : "no";
}
