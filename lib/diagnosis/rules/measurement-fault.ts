import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence, inMillivolt, inTime, namedGroups } from "@/lib/diagnosis/wording";

/** F6: the monitor reads wrongly: a block of neighbours shifted together, one channel shifted, or values that freeze. */
export function measurementFault(evidence: Evidence): Finding[] {
  return [...shifted(evidence), ...frozen(evidence)];
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
          ? `The sum of the groups steps by ${inMillivolt(shift.sumChangeV)} against the pack voltage, and ${namedGroups(shift.groups)} step by ${inMillivolt(shift.shiftV)} each at that moment.`
          : `${namedGroups(shift.groups)} read ${inMillivolt(shift.shiftV)} apart from the others, and the sum of the groups misses the pack voltage by ${inMillivolt(shift.sumChangeV)}, as if only the reading were shifted.`,
        "Cells that really changed would have taken the pack voltage with them.",
      ],
      evidenceAgainst:
        shift.kind === "step"
          ? []
          : ["The shift stands from the first row on: a true imbalance of one module cannot be excluded."],
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
        `Group ${longest.group} repeats one value for ${inTime(longest.durationS)} (${longest.toRow - longest.fromRow + 1} rows) while the median group moves by ${inMillivolt(longest.othersMovedV)}.`,
      ],
      evidenceAgainst: [],
      nextTest,
    },
  ];
}
