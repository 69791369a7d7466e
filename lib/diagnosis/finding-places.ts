import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import type { AbuseKind } from "@/lib/readings/measure/abuse-events";
import { median } from "@/lib/readings/measure/median";
import { switchHeat } from "@/lib/readings/measure/switch-heat";
import type { SwitchFault } from "@/lib/readings/measure/switch-logic";
import type { ProbeFault } from "@/lib/readings/measure/temperature-probes";

/** Where in the log a finding can be seen. Rows count from 0 as in the log; times from its first row. */
export interface FindingPlace {
  /** Position of the finding in its list, from 0. */
  readonly finding: number;
  readonly fromRow: number;
  readonly toRow: number;
  readonly fromS: number;
  readonly toS: number;
  /** What is to be seen there. */
  readonly says: string;
}

interface Stretch {
  readonly fromRow: number;
  readonly toRow: number;
  readonly says: string;
}

/** More places than this for one finding are no help. */
const MOST_PLACES = 3;

/**
 * The places in time that a finding rests on: the rows themselves where the measurement names them, else the stretch where
 * such a fault shows best (the hardest load for a resistance, the emptiest point for capacity, the longest rest for a
 * leak). Empty for a finding that no single place shows.
 */
export function findingPlaces(evidence: Evidence, findings: readonly Finding[]): FindingPlace[] {
  const { timeS } = evidence.survey.log;
  return findings.flatMap((finding, position) =>
    stretchesOf(evidence, finding)
      .filter(({ fromRow, toRow }) => fromRow >= 0 && toRow >= fromRow)
      .slice(0, MOST_PLACES)
      .map(({ fromRow, toRow, says }) => ({
        finding: position,
        fromRow,
        toRow,
        fromS: Math.round(timeS[fromRow] ?? 0),
        toS: Math.round(timeS[toRow] ?? timeS[fromRow] ?? 0),
        says,
      })),
  );
}

function stretchesOf(evidence: Evidence, { fault, groups }: Finding): Stretch[] {
  switch (fault) {
    case "acute-event":
      return evidence.acute.slice(0, MOST_PLACES).map(({ row }) => ({ fromRow: row, toRow: row, says: "the event" }));
    case "sense-wire":
      return [...unsteadyTaps(evidence, groups), ...nearZero(evidence, groups), ...throughout(evidence, groups)];
    case "measurement-fault":
      return [
        ...evidence.shifts.map(({ row }) => ({ fromRow: row, toRow: row, says: "the step" })),
        ...[...evidence.frozen, ...evidence.frozenLog].map(({ fromRow, toRow }) => ({
          fromRow,
          toRow,
          says: "values that do not move",
        })),
        ...throughout(evidence, groups),
      ];
    case "temperature-sensor":
      return [...shiftedProbes(evidence), ...switchProbeRows(evidence)];
    case "water-ingress":
      return [...unsteadyTaps(evidence, []), ...longestRest(evidence), ...shiftedProbes(evidence)];
    case "self-discharge":
      return longestRest(evidence);
    case "high-resistance-cell":
    case "high-resistance-joint":
    case "main-lead":
      return hardestLoad(evidence);
    case "power-stage-fault":
      return [...againstCommand(evidence), ...hotSwitches(evidence)];
    case "weak-cell":
    case "imbalance":
      return lowestGroup(evidence, groups);
    case "over-discharge":
      return [...nearZero(evidence, groups), ...abuse(evidence, drained)];
    case "outside-cause":
      return abuse(
        evidence,
        evidence.abuse.flatMap(({ kind }) => (drained.includes(kind) ? [] : [kind])),
      );
    default:
      return [];
  }
}

/** What is seen at a place of use outside the limits, in words that stand alone on a picture. */
const abuseSays: Readonly<Record<AbuseKind, string>> = {
  "over-discharge": "a group drained too far",
  "deep over-discharge": "a group drained far too deep, at rest",
  "over-voltage": "a voltage above the charge limit",
  "critical over-voltage": "a voltage far above the charge limit",
  "cold charge": "charging in the cold",
  "hot charge": "charging in the heat",
  hot: "too hot",
  "over-current discharge": "more load than the pack is rated for",
  "over-current charge": "more charging current than the pack is rated for",
  "charger voltage too high": "a charger that stands too high",
  "stored empty": "left empty",
};

const probeSays: Readonly<Record<ProbeFault["kind"], string>> = {
  open: "reads as if its wire were cut",
  short: "reads as if its wires touched",
  stuck: "stands still",
  jumping: "jumps",
  offset: "reads apart from the others",
};

const drained: readonly AbuseKind[] = ["deep over-discharge", "over-discharge"];

function abuse(evidence: Evidence, kinds: readonly AbuseKind[]): Stretch[] {
  return evidence.abuse
    .filter(({ kind }) => kinds.includes(kind))
    .map(({ firstS, lastS, kind }) => ({
      fromRow: rowAt(evidence, firstS),
      toRow: rowAt(evidence, lastS),
      says: abuseSays[kind],
    }));
}

/** Of these groups; of all where none is named. */
function unsteadyTaps({ taps }: Evidence, groups: readonly number[]): Stretch[] {
  return taps
    .filter((tap) => groups.length === 0 || tap.groups.some((group) => groups.includes(group)))
    .map(({ firstRow, lastRow }) => ({
      fromRow: firstRow,
      toRow: lastRow,
      says: "first to last row in which the wire does not hold",
    }));
}

function nearZero(evidence: Evidence, groups: readonly number[]): Stretch[] {
  return evidence.nearZero
    .filter(({ group }) => groups.includes(group))
    .map(({ firstRow, lastRow }) => ({ fromRow: firstRow, toRow: lastRow, says: "near zero volts" }));
}

/** A reading that is off from the first row to the last. */
function throughout({ standing, survey }: Evidence, groups: readonly number[]): Stretch[] {
  const told = standing.some((one) => one.groups.some((group) => groups.includes(group)));
  return told ? [{ fromRow: 0, toRow: survey.log.rows - 1, says: "off at every charge" }] : [];
}

/** First to last row in which a probe at fault reads farthest from the middle of the others. */
function shiftedProbes({ probeFaults, survey }: Evidence): Stretch[] {
  const { temperatures } = survey.log;
  return probeFaults.flatMap(({ probe, kind }) => {
    const own = temperatures.find(({ name }) => name === probe)?.valuesC;
    if (own === undefined) return [];
    const others = temperatures.filter(({ name }) => name !== probe).map(({ valuesC }) => valuesC);
    const apartK = own.map((warm, row) =>
      Math.abs(warm - (median(others.map((one) => one[row] ?? Number.NaN)) ?? warm)),
    );
    const farthest = apartK.reduce((most, apart) => Math.max(most, Number.isNaN(apart) ? 0 : apart), 0);
    const isFar = (apart: number) => farthest > 0 && apart >= farthest / 2;
    return [
      { fromRow: apartK.findIndex(isFar), toRow: apartK.findLastIndex(isFar), says: `${probe} ${probeSays[kind]}` },
    ];
  });
}

function rowAt({ survey }: Pick<Evidence, "survey">, seconds: number): number {
  return survey.log.timeS.findIndex((at) => at >= seconds);
}

function longestRest({ survey }: Evidence): Stretch[] {
  let endRow = -1;
  for (let row = 0; row < survey.restingS.length; row += 1) {
    const rested = survey.restingS[row] ?? -1;
    if (rested > 0 && rested > (survey.restingS[endRow] ?? 0)) endRow = row;
  }
  if (endRow < 0) return [];
  const startS = (survey.log.timeS[endRow] ?? 0) - (survey.restingS[endRow] ?? 0);
  return [{ fromRow: rowAt({ survey }, startS), toRow: endRow, says: "the longest rest" }];
}

/** Rows around the largest discharge current. */
const AROUND_ROWS = 60;

function hardestLoad({ survey }: Evidence): Stretch[] {
  let hardest = -1;
  let hardestA = 0;
  for (let row = 0; row < survey.log.rows; row += 1) {
    const current = survey.log.currentA[row] ?? Number.NaN;
    if (!(current < hardestA)) continue;
    hardest = row;
    hardestA = current;
  }
  if (hardest < 0) return [];
  return [{ ...around(hardest, survey.log.rows), says: "the hardest load" }];
}

const switchSays: Readonly<Record<SwitchFault["kind"], string>> = {
  "conducts while off": "current flows through a switch that is commanded off",
  "open while on": "no voltage at the terminals though the switch is commanded on",
};

/** The stretch of rows that is the finding; single rows elsewhere, in which a command is logged late, are none of it. */
function againstCommand({ switches }: Evidence): Stretch[] {
  return switches.map(({ fromRow, toRow, kind }) => ({ fromRow, toRow, says: switchSays[kind] }));
}

/** First to last row in which the probe on the switches reads what is no temperature. */
function switchProbeRows({ switchProbe, survey, settings }: Evidence): Stretch[] {
  const column = survey.log.mosfetTemperatureC;
  if (switchProbe === null || column === null) return [];
  const { probe, kind } = switchProbe;
  const isOff = (warm: number) =>
    kind === "short" ? warm > settings.acute.switchNoTemperatureC : warm <= settings.probe.openBelowC;
  return [
    { fromRow: column.findIndex(isOff), toRow: column.findLastIndex(isOff), says: `${probe} ${probeSays[kind]}` },
  ];
}

function hotSwitches({ survey, settings }: Evidence): Stretch[] {
  const { switchFaultC, switchHotRows } = settings.verdict;
  const heat = switchHeat(survey, settings.acute, switchFaultC, switchHotRows);
  return heat === null ? [] : [{ fromRow: heat.fromRow, toRow: heat.toRow, says: "the switches too hot" }];
}

function lowestGroup({ survey }: Evidence, groups: readonly number[]): Stretch[] {
  const named = groups.map((group) => survey.log.cellVoltagesV[group - 1] ?? new Float64Array());
  const [low, high] = survey.gates.cellPlausibleV;
  let lowest = Number.POSITIVE_INFINITY;
  let at = -1;
  for (const column of named.length > 0 ? named : [survey.lowestV]) {
    for (let row = 0; row < column.length; row += 1) {
      const volt = column[row] ?? Number.NaN;
      if (volt >= low && volt <= high && volt < lowest) {
        lowest = volt;
        at = row;
      }
    }
  }
  return at < 0 ? [] : [{ ...around(at, survey.log.rows), says: "where it is lowest" }];
}

function around(row: number, rows: number): { fromRow: number; toRow: number } {
  return { fromRow: Math.max(0, row - AROUND_ROWS), toRow: Math.min(rows - 1, row + AROUND_ROWS) };
}
