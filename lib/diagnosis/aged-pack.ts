import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { foundCapacity } from "@/lib/diagnosis/measurements/ageing";
import type { NotSeen } from "@/lib/diagnosis/not-seen";
import { oncePerEvidence } from "@/lib/diagnosis/once-per-evidence";
import { ownCounter } from "@/lib/diagnosis/own-counter";
import { weakCell } from "@/lib/diagnosis/rules/weak-cell";
import { type StateOfHealth, stateOfHealth } from "@/lib/diagnosis/state-of-health";
import { confidence, inDigits } from "@/lib/diagnosis/wording";

/** Standard errors by which what is left must lie under a limit. Engineering default. */
const sigmas = 2;

interface Aged {
  readonly said: string;
  readonly share: number;
  readonly error: number;
  readonly early: StateOfHealth["early"];
  readonly expected: string;
}

/** What the whole pack has left by what its readings tell, and what is expected of it; null where no capacity is known. */
const aged = oncePerEvidence((evidence): Aged | null => {
  const found = foundCapacity(evidence);
  if (found === null) return null;
  const { ratedCapacityAh, cyclesTo80Percent } = evidence.model;
  const counter = ownCounter(evidence);
  const cycles = counter === null || counter.doubt !== null ? null : counter.cycles;
  const { share, early, expected } = stateOfHealth({ ...found, builtAh: ratedCapacityAh, cycles, cyclesTo80Percent });
  return {
    said: `By ${found.how} the pack holds ${inDigits(found.foundAh, 1)} Ah, ${inDigits(100 * share, 0)} % of its rating (± ${inDigits((100 * found.foundErrorAh) / ratedCapacityAh, 0)} points)`,
    share,
    error: found.foundErrorAh / ratedCapacityAh,
    early,
    expected:
      expected === null
        ? ""
        : `; after ${inDigits(cycles ?? 0, 0)} cycles by its own counter ${inDigits(100 * expected[0], 0)} to ${inDigits(100 * expected[1], 0)} % would be expected`,
  };
});

const fullDischarge =
  "Full discharge at C/5 (empty in five hours) and 25 degC from a full charge, watched, with all group voltages logged.";

/** F1 of the whole pack: all groups alike, and so little left that it is no sound pack. Where a group is weak by itself, that is told. */
export function wornPack(evidence: Evidence): Finding[] {
  const found = aged(evidence);
  const { wornOutCapacity, damagedCapacity } = evidence.settings.verdict;
  if (found === null || found.share + sigmas * found.error >= wornOutCapacity || weakCell(evidence).length > 0)
    return [];
  return [
    {
      fault: "weak-cell",
      groups: [],
      confidence: confidence(0.55),
      safetyClass: found.share < damagedCapacity ? "B" : "C",
      evidenceFor: [`${found.said}${found.expected}.`],
      evidenceAgainst: [
        "No single group stands out: the whole pack has aged, or it was cold, or the current is not counted right.",
      ],
      nextTest: fullDischarge,
    },
  ];
}

/** Less than is expected of its cycles, or less than a worn-out pack by its number alone: not sound before a full discharge says so. */
export function agedEarly(evidence: Evidence): NotSeen[] {
  const found = aged(evidence);
  if (found === null || (!found.early && found.share >= evidence.settings.verdict.wornOutCapacity)) return [];
  const why = found.early ? "it has aged early" : "it may be worn out";
  return [{ fault: "weak-cell", because: `${found.said}${found.expected}: ${why}.`, next: fullDischarge }];
}
