import { contradictedCapacities } from "@/lib/diagnosis/capacity-shares";
import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Fault } from "@/lib/diagnosis/finding";
import { inDigits } from "@/lib/diagnosis/wording";
import { median } from "@/lib/readings/measure/median";

interface Found {
  readonly fault: Fault;
  readonly groups: readonly number[];
}

/** Findings that tell of a group's capacity, and of why its charge stands apart at rest. */
const tellOfCapacity: ReadonlySet<Fault> = new Set(["weak-cell"]);
const tellOfCharge: ReadonlySet<Fault> = new Set(["weak-cell", "imbalance", "self-discharge", "water-ingress"]);

/** Groups that seem small or stand apart in charge, and no finding says so: a whole sentence each. Such a pack is not sound. */
export function untoldGroups(evidence: Evidence, faults: readonly Found[]): string[] {
  const told = (by: ReadonlySet<Fault>) =>
    new Set(faults.filter(({ fault }) => by.has(fault)).flatMap(({ groups }) => groups));
  return [...unexplained(evidence, told(tellOfCharge)), ...smallCapacities(evidence, told(tellOfCapacity))];
}

/** A group that seems small without being proven so: neither a finding nor sound. */
function smallCapacities(evidence: Evidence, told: ReadonlySet<number>): string[] {
  const { states, charge, settings } = evidence;
  const contradicted = contradictedCapacities(evidence);
  if (states === null || charge === null) return [];
  const swept = charge.window[1] - charge.window[0];
  if (swept < settings.verdict.capacityWindowPercent) return [];
  const middle = median(states.groups.map((state) => state?.shortfall.estimate ?? Number.NaN)) ?? 0;
  return states.groups.flatMap((state, index) => {
    const ratio = 1 / (1 + (state?.shortfall.estimate ?? middle) - middle);
    if (ratio > settings.verdict.smallCapacityRatio || evidence.doubtfulGroups.has(index + 1)) return [];
    if (contradicted.has(index + 1) || told.has(index + 1)) return [];
    return [
      `Group ${index + 1} seems to hold ${inDigits(ratio * 100, 0)} % of what the group in the middle holds, but the ${inDigits(swept, 0)} % of charge this file goes through do not prove it.`,
    ];
  });
}

/** Groups whose charge stands apart at rest without a finding that explains it: whatever it is, the pack is not sound. */
function unexplained(evidence: Evidence, told: ReadonlySet<number>): string[] {
  const { restOffsets, settings } = evidence;
  if (restOffsets === null) return [];
  const middle = median(restOffsets.map((offset) => offset?.percent ?? Number.NaN)) ?? 0;
  return restOffsets.flatMap((offset, index) => {
    const apart = (offset?.percent ?? middle) - middle;
    if (Math.abs(apart) < settings.verdict.unexplainedPercent || evidence.doubtfulGroups.has(index + 1)) return [];
    if (told.has(index + 1)) return [];
    return [
      `Group ${index + 1} stands ${inDigits(Math.abs(apart), 1)} % of charge ${apart < 0 ? "below" : "above"} the group in the middle at rest, and no cause that was tested explains it.`,
    ];
  });
}
