import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence, inDigits, inTime, namedGroups } from "@/lib/diagnosis/wording";

/** V. Below it copper is held to have dissolved; from memory, engineering default. */
const criticalV = 1.5;

/** F9: groups that were drained below what a cell survives unharmed. */
export function overDischarge(evidence: Evidence): Finding[] {
  const deep = evidence.abuse.find((event) => event.kind === "deep over-discharge");
  const event = deep ?? evidence.abuse.find((one) => one.kind === "over-discharge");
  const dead = evidence.deadGroups;
  if (event === undefined && dead.length === 0) return [];
  const groups = [...new Set([...(event?.groups ?? []), ...dead])].toSorted((a, b) => a - b);
  const worst = dead.length > 0 ? 0 : (event?.worst ?? 0);
  const atRest = (event?.restRows ?? 0) > 0 || dead.length > 0;
  const belief = worst < 2 ? 0.92 : atRest ? 0.82 : 0.62;
  return [
    {
      fault: "over-discharge",
      groups,
      confidence: confidence(belief),
      safetyClass: worst < criticalV ? "A1" : "B",
      evidenceFor: [
        ...(event === undefined
          ? []
          : [
              `${namedGroups(groups)} fell to ${inDigits(event.worst, 3)} V, ${inTime(event.totalS)} in all, ${atRest ? "at rest as well" : "under load"}.`,
            ]),
        ...(dead.length > 0 ? [`${namedGroups(dead)} read near zero volts, and the pack voltage confirms it.`] : []),
      ],
      evidenceAgainst: atRest ? [] : ["It was seen only under load: resistance explains part of the fall."],
      nextTest: "Look for swelling. Do not charge; between 2.0 and 2.5 V only at C/20, supervised, at the bench.",
    },
  ];
}
