import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence, counted, inDigits, inTime } from "@/lib/diagnosis/wording";
import type { ProbeFault } from "@/lib/readings/measure/temperature-probes";

/** Probes told one by one; the rest are named. Engineering default: what a person reads before tiring. */
const toldOneByOne = 3;

/**
 * F10: a temperature probe that is open, shorted, stuck, jumping or off. Protection against heat and cold is impaired.
 * Probes that fail alike are one finding: several at once share a connector or a board more often than a fate.
 */
export function temperatureSensor(evidence: Evidence): Finding[] {
  const kinds = [...new Set(evidence.probeFaults.map(({ kind }) => kind))];
  return [...kinds.map(alike), ...(evidence.switchProbe === null ? [] : [ofSwitches(evidence.switchProbe)])];

  function alike(kind: ProbeFault["kind"]): Finding {
    const faults = evidence.probeFaults.filter((fault) => fault.kind === kind);
    const probes = faults.map(({ probe }) => probe);
    const rest = probes.slice(toldOneByOne);
    return {
      fault: "temperature-sensor" as const,
      groups: [],
      confidence: confidence(beliefs[kind]),
      safetyClass: "B" as const,
      evidenceFor: [
        ...faults.slice(0, toldOneByOne).map(sentence),
        ...(rest.length === 0 ? [] : [`The same holds for ${rest.join(", ")}.`]),
      ],
      evidenceAgainst:
        kind === "offset" ? ["A cell that really stays warm at rest would read the same: feel the pack first."] : [],
      nextTest:
        rest.length === 0
          ? `Resistance of ${probes.join(" and ")} at the connector against the others at the same temperature; then swap it.`
          : "Resistance of the probes at their common connector against a thermometer; then swap the board.",
    };
  }
}

/** Heat of the switches goes unwatched. A column that never changes is no such finding: `not-seen.ts` says so. */
function ofSwitches(fault: ProbeFault): Finding {
  return {
    fault: "temperature-sensor",
    groups: [],
    confidence: confidence(switchBelief),
    safetyClass: "B",
    evidenceFor: [`${sentence(fault)} No warming led up to it, so heat of the switches is not watched.`],
    evidenceAgainst: [
      "It may be a number the board writes where it has no value: between these rows it reads a temperature.",
    ],
    nextTest:
      "Resistance of the probe on the switches at the board against the others at the same temperature; then swap the board.",
  };
}

/** Engineering default: less than of a cell's probe, because some boards write such numbers for a missing value. */
const switchBelief = 0.7;

const beliefs = { open: 0.93, short: 0.93, stuck: 0.85, jumping: 0.85, offset: 0.6 } as const;

function sentence(fault: ProbeFault): string {
  switch (fault.kind) {
    case "open":
    case "short":
      return `${fault.probe} reads ${inDigits(fault.readingC, 0)} degC in ${counted(fault.rows, "row")}${Number.isFinite(fault.othersC) ? ` while the others read ${inDigits(fault.othersC, 0)} degC` : ""}: ${fault.kind === "open" ? "an open input" : "a short circuit, or a number written where there is no value"}.`;
    case "stuck":
      return `${fault.probe} stays at ${inDigits(fault.readingC, 1)} degC for ${inTime(fault.durationS)} while every other probe moves by ${inDigits(fault.othersC, 1)} K or more.`;
    case "jumping":
      return `${fault.probe} jumps by up to ${inDigits(fault.readingC, 0)} K between rows, ${counted(fault.rows, "time")}, with the other probes still: no heat moves so fast.`;
    case "offset":
      return `After hours of rest ${fault.probe} reads ${inDigits(fault.readingC, 1)} degC against ${inDigits(fault.othersC, 1)} degC of the others.`;
  }
}
