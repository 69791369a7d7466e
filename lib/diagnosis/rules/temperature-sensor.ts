import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { mayWarm } from "@/lib/diagnosis/warmed-by-leak";
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
      confidence: confidence(kind === "offset" ? beliefInOffset(evidence, faults) : beliefs[kind]),
      safetyClass: "B" as const,
      evidenceFor: [
        ...faults.slice(0, toldOneByOne).map(sentence),
        ...(rest.length === 0 ? [] : [`The same holds for ${rest.join(", ")}.`]),
      ],
      evidenceAgainst: kind === "offset" ? [...againstOffset(evidence, faults)] : [],
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

const beliefs = { open: 0.93, short: 0.93, stuck: 0.85, jumping: 0.85 } as const;
/** Belief in a probe that is off: where a warm place would read the same, where no group gives off what would warm it, and where it reads cold. */
const offsetBeliefs = { maybeWarm: 0.6, noHeat: 0.75, cold: 0.8 } as const;
/** Probes of which one may be called cold: of two, the other may be warm. */
const probesForCold = 3;

/** Nothing in a pack keeps one place colder than all others for hours, and heat inside a cell comes out of its charge. */
function beliefInOffset(evidence: Evidence, faults: readonly ProbeFault[]): number {
  const warm = faults.filter((fault) => !readsCold(evidence, fault));
  if (warm.length === 0) return offsetBeliefs.cold;
  const leastK = Math.min(...warm.map(({ readingC, othersC }) => Math.abs(readingC - othersC)));
  return mayWarm(evidence, leastK) ? offsetBeliefs.maybeWarm : offsetBeliefs.noHeat;
}

function readsCold({ survey }: Evidence, { readingC, othersC }: ProbeFault): boolean {
  return readingC < othersC && survey.log.temperatures.length >= probesForCold;
}

function againstOffset(evidence: Evidence, faults: readonly ProbeFault[]): string[] {
  const belief = beliefInOffset(evidence, faults);
  if (belief === offsetBeliefs.cold) return [];
  return belief === offsetBeliefs.noHeat
    ? [
        "No group loses as much charge at rest as would keep it so warm; what warms it from outside would read the same: feel the pack first.",
      ]
    : ["A cell that really stays warm at rest would read the same: feel the pack first."];
}

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
