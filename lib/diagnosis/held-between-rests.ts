import type { Evidence } from "@/lib/diagnosis/evidence";
import { weakCell } from "@/lib/diagnosis/rules/weak-cell";
import { type PackBetweenRests, packBetweenRests } from "@/lib/readings/measure/pack-between-rests";

/** Groups with readings of their own that a finding names as weak: only these count with a capacity of their own. */
export function weakGroups(evidence: Evidence): ReadonlySet<number> {
  const named = weakCell(evidence).flatMap(({ groups }) => groups);
  return new Set(named.filter((group) => !evidence.doubtfulGroups.has(group)));
}

/** What pack and groups hold by two rests, void readings left out. Null without such rests, and without the model's own curve. */
export function heldBetweenRests(evidence: Evidence): PackBetweenRests | null {
  const { restCapacity, curve, doubtfulGroups } = evidence;
  if (restCapacity === null || curve?.source !== "pack model") return null;
  return packBetweenRests(restCapacity, curve, { weak: weakGroups(evidence), doubtful: doubtfulGroups });
}
