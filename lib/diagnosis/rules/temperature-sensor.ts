import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence, counted, inDigits, inTime } from "@/lib/diagnosis/wording";
import type { ProbeFault } from "@/lib/readings/measure/temperature-probes";

/** F10: a temperature probe that is open, shorted, stuck, jumping or off. Protection against heat and cold is impaired. */
export function temperatureSensor(evidence: Evidence): Finding[] {
  return evidence.probeFaults.map((fault) => ({
    fault: "temperature-sensor" as const,
    groups: [],
    confidence: confidence(beliefs[fault.kind]),
    safetyClass: "B" as const,
    evidenceFor: [sentence(fault)],
    evidenceAgainst:
      fault.kind === "offset"
        ? ["A cell that really stays warm at rest would read the same: feel the pack first."]
        : [],
    nextTest: `Resistance of ${fault.probe} at its connector against the others at the same temperature; then swap it.`,
  }));
}

const beliefs = { open: 0.93, short: 0.93, stuck: 0.85, jumping: 0.85, offset: 0.6 } as const;

function sentence(fault: ProbeFault): string {
  switch (fault.kind) {
    case "open":
    case "short":
      return `${fault.probe} reads ${inDigits(fault.readingC, 0)} degC in ${counted(fault.rows, "row")}${Number.isFinite(fault.othersC) ? ` while the others read ${inDigits(fault.othersC, 0)} degC` : ""}: ${fault.kind === "open" ? "an open input" : "a short or a sentinel"}.`;
    case "stuck":
      return `${fault.probe} stays at ${inDigits(fault.readingC, 1)} degC for ${inTime(fault.durationS)} while every other probe moves by ${inDigits(fault.othersC, 1)} K or more.`;
    case "jumping":
      return `${fault.probe} jumps by up to ${inDigits(fault.readingC, 0)} K between rows, ${counted(fault.rows, "time")}, with the other probes still: no heat moves so fast.`;
    case "offset":
      return `After hours of rest ${fault.probe} reads ${inDigits(fault.readingC, 1)} degC against ${inDigits(fault.othersC, 1)} degC of the others.`;
  }
}
