import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import {
  confidence,
  inDigits,
  inMillivolt,
  inTime,
  lasting,
  namedGroups,
  namedGroupsFirst,
} from "@/lib/diagnosis/wording";
import { isBrief } from "@/lib/readings/measure/abuse-events";
import type { FrozenLogRun } from "@/lib/readings/measure/frozen-log";

/**
 * F6: the monitor reads wrongly, or does not do what its readings ask for: a block of neighbours shifted together, one
 * channel shifted, values that freeze, a log that stands
 * still, a group charged far beyond its limit.
 */
export function measurementFault(evidence: Evidence): Finding[] {
  return [
    ...shifted(evidence),
    ...offThroughout(evidence),
    ...frozen(evidence),
    ...standingStill(evidence),
    ...overcharged(evidence),
  ];
}

const nextTest =
  "Read every group with a meter and compare with the log at the same moment; then swap the monitor board.";

function shifted(evidence: Evidence): Finding[] {
  return evidence.shifts
    .filter((shift) => !shift.groups.every((group) => evidence.taps.some((tap) => tap.groups.includes(group))))
    .map((shift) => ({
      fault: "measurement-fault" as const,
      groups: [...shift.groups],
      confidence: confidence(shift.kind === "step" ? 0.8 : 0.62),
      safetyClass: "B" as const,
      evidenceFor: [
        shift.kind === "step"
          ? `All groups together part from the voltage of the pack by ${inMillivolt(shift.sumChangeV)} in one step, and ${namedGroups(shift.groups)} step by ${inMillivolt(shift.shiftV)} each at that moment.`
          : `${namedGroups(shift.groups)} read ${inMillivolt(shift.shiftV)} apart from the others, and all groups together miss the voltage of the pack by ${inMillivolt(shift.sumChangeV)}, as if only the reading were shifted.`,
        "Cells that really changed would have taken the pack voltage with them.",
      ],
      evidenceAgainst:
        shift.kind === "step"
          ? []
          : ["The shift stands from the first row on: a true imbalance of one module cannot be excluded."],
      nextTest,
    }));
}

/** Off by the same volts at every charge: an offset of charge would follow the bends of the curve. */
function offThroughout({ standing, survey, sum }: Evidence): Finding[] {
  return standing
    .filter(({ kind }) => kind === "channels")
    .map(({ groups, shiftV }) => ({
      fault: "measurement-fault" as const,
      groups: [...groups],
      confidence: confidence(0.62),
      safetyClass: "B" as const,
      evidenceFor: [
        `${namedGroupsFirst(groups)} ${groups.length === 1 ? "reads" : "read"} ${inMillivolt(shiftV)} apart from the others at every charge the log goes through; groups that are truly charged otherwise would come closer and part again as the pack empties.`,
      ],
      evidenceAgainst: [
        ...(sum.outcome === "measured" ? [] : ["No pack voltage was logged to hold the groups against."]),
        ...(groups.length === 1 && (groups[0] === 1 || groups[0] === survey.groups)
          ? ["A sense wire at the end of the stack that does not hold looks the same."]
          : []),
      ],
      nextTest,
    }));
}

function frozen(evidence: Evidence): Finding[] {
  if (evidence.frozen.length === 0) return [];
  const longest = evidence.frozen.toSorted((a, b) => b.durationS - a.durationS)[0];
  if (longest === undefined) return [];
  return [
    {
      fault: "measurement-fault",
      groups: evidence.frozen.map((run) => run.group),
      confidence: confidence(0.85),
      safetyClass: "B",
      evidenceFor: [
        `Group ${longest.group} repeats one value for ${inTime(longest.durationS)} (${longest.toRow - longest.fromRow + 1} rows) while the group in the middle moves by ${inMillivolt(longest.othersMovedV)}.`,
      ],
      evidenceAgainst: [],
      nextTest,
    },
  ];
}

/** The whole log stands still while current flows. */
function standingStill({ frozenLog, lineOfRow }: Evidence): Finding[] {
  const longest = frozenLog.toSorted((a, b) => b.durationS - a.durationS)[0];
  if (longest === undefined) return [];
  const { fromRow, toRow, durationS, currentA, groupsOnly } = longest;
  if (groupsOnly !== undefined) return [groupsStandStill(longest, groupsOnly.flowedAh, lineOfRow)];
  return [
    {
      fault: "measurement-fault",
      groups: [],
      confidence: confidence(0.85),
      safetyClass: "B",
      evidenceFor: [
        `From line ${lineOfRow(fromRow)} to ${lineOfRow(toRow)} every value repeats itself for ${inTime(durationS)} (${toRow - fromRow + 1} rows) while ${inDigits(Math.abs(currentA), 1)} A are said to flow: the log stands still, and what happened meanwhile is not in it.`,
      ],
      evidenceAgainst: ["The logger alone may have stood still, and the protection been awake."],
      nextTest,
    },
  ];
}

function groupsStandStill(
  { fromRow, toRow, durationS }: FrozenLogRun,
  flowedAh: number,
  lineOfRow: Evidence["lineOfRow"],
): Finding {
  return {
    fault: "measurement-fault",
    groups: [],
    confidence: confidence(0.85),
    safetyClass: "B",
    evidenceFor: [
      `From line ${lineOfRow(fromRow)} to ${lineOfRow(toRow)} every group repeats its value to the last digit for ${inTime(durationS)} (${toRow - fromRow + 1} rows) while ${inDigits(flowedAh, 1)} Ah flow: the monitor repeats old values, and nobody watched the cells.`,
    ],
    evidenceAgainst: ["The logger alone may have repeated them, and the protection been awake."],
    nextTest: `Do not charge. ${nextTest}`,
  };
}

/**
 * Few groups far above their limit: either they truly were and nothing cut the charge off, or they only read so. Where no charge flowed
 * meanwhile nobody was asked to cut it off: the group is fuller than it should be, or its wire or channel is off.
 */
function overcharged({ abuse, survey, model, settings }: Evidence): Finding[] {
  const event = abuse.find(({ kind }) => kind === "critical over-voltage");
  if (event === undefined || event.groups.length > survey.groups / 2 || isBrief(event, survey, settings.abuse))
    return [];
  const { groups } = event;
  const limitV = model.cellMaxV + settings.abuse.criticalOverV;
  const charge = chargeAbove(survey, groups, limitV, settings.abuse.overVoltageS);
  const seen = `${namedGroupsFirst(groups)} stood above ${inDigits(limitV, 2)} V for ${lasting(event.totalS)} (worst ${inDigits(event.worst, 3)} V)`;
  return [
    {
      fault: "measurement-fault",
      groups,
      confidence: confidence(charge === "went on" ? 0.7 : 0.55),
      safetyClass: "B",
      evidenceFor: [`${seen}, ${chargeWords[charge]}.`],
      evidenceAgainst: [
        charge === "went on"
          ? "The readings cannot tell a cell that was overcharged from a monitoring board that reads too high: either way the protection cannot be relied on."
          : "A group that is fuller than the others, or a loose wire beside it, reads so too; something let it come so far, so the protection cannot be relied on.",
      ],
      nextTest: `Do not charge. Look for swelling, then read ${namedGroups(groups)} with a meter and compare with the log at the same moment.`,
    },
  ];
}

const chargeWords = {
  "went on": "and nothing cut the charge off",
  "did not flow": "with no charge flowing by then",
  untold: "and no current was logged that would tell whether the charge was cut off",
} as const;

/** Whether a charge went on for longer than a board takes to cut it off, while one of these groups stood above the limit. */
function chargeAbove(
  { log, intervalS, restCurrentA }: Evidence["survey"],
  groups: readonly number[],
  limitV: number,
  cutOffS: number,
): keyof typeof chargeWords {
  if (!log.currentA.some(Number.isFinite)) return "untold";
  const columns = log.cellVoltagesV.filter((_, index) => groups.includes(index + 1));
  const chargedAbove = (row: number) =>
    (log.currentA[row] ?? Number.NaN) > restCurrentA && columns.some((column) => (column[row] ?? Number.NaN) > limitV);
  let chargedS = 0;
  for (let row = 1; row < log.rows; row += 1)
    if (chargedAbove(row) && chargedAbove(row - 1)) chargedS += intervalS[row] ?? 0;
  return chargedS > cutOffS ? "went on" : "did not flow";
}
