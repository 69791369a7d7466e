import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface SwitchFault {
  readonly kind: "conducts while off" | "open while on";
  readonly which: "charge" | "discharge";
  /** The longest stretch of rows in which it holds without a break, from the first to the last of them. */
  readonly fromRow: number;
  readonly toRow: number;
  readonly rows: number;
  readonly durationS: number;
  /** A for a switch that conducts, V left at the terminals for one that does not. */
  readonly worst: number;
}

/** Engineering defaults: rows a contradiction must last besides the gate's seconds, and the share of the sum that counts as no output. */
const rowsNeeded = 3;
const noOutput = 0.2;

/**
 * Contradictions between switch command and current. Current in the other direction flows through a body diode and is no
 * fault of the switch that is off. Terminals dead although the discharge switch is on: open switch, fuse or contactor; a
 * charge switch that is off takes no more than the drop of its body diode.
 */
export function switchFaults(survey: RowSurvey): SwitchFault[] {
  const { chargeSwitch, dischargeSwitch } = survey.log;
  const faults: SwitchFault[] = [];
  const least = Math.max(survey.restCurrentA, 1);
  for (const which of ["charge", "discharge"] as const) {
    const command = which === "charge" ? chargeSwitch : dischargeSwitch;
    if (command === null) continue;
    const sign = which === "charge" ? 1 : -1;
    const conducting = longestRun(
      survey,
      (row) => command[row] === 0 && sign * (survey.log.currentA[row] ?? 0) > least,
      (row) => Math.abs(survey.log.currentA[row] ?? 0),
    );
    if (conducting !== null) faults.push({ kind: "conducts while off", which, ...conducting });
  }
  if (dischargeSwitch !== null) {
    const dead = longestRun(
      survey,
      (row) =>
        dischargeSwitch[row] === 1 &&
        (survey.log.packVoltageV[row] ?? Number.NaN) < noOutput * (survey.sumV[row] ?? Number.NaN),
      (row) => survey.log.packVoltageV[row] ?? 0,
    );
    if (dead !== null) faults.push({ kind: "open while on", which: "discharge", ...dead });
  }
  return faults;
}

function longestRun(survey: RowSurvey, holds: (row: number) => boolean, measure: (row: number) => number) {
  let best: Pick<SwitchFault, "fromRow" | "toRow" | "rows" | "durationS" | "worst"> | null = null;
  let start = -1;
  let worst = 0;
  for (let row = 0; row <= survey.log.rows; row += 1) {
    if (row < survey.log.rows && holds(row)) {
      if (start < 0) {
        start = row;
        worst = 0;
      }
      worst = Math.max(worst, measure(row));
      continue;
    }
    if (start >= 0) {
      const durationS = (survey.log.timeS[row - 1] ?? 0) - (survey.log.timeS[start] ?? 0);
      const enough = row - start >= rowsNeeded && durationS >= survey.gates.switchContradictionS;
      if (enough && (best === null || durationS > best.durationS))
        best = { fromRow: start, toRow: row - 1, rows: row - start, durationS, worst };
    }
    start = -1;
  }
  return best;
}
