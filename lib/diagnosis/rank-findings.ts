import type { Fault, Finding } from "@/lib/diagnosis/finding";
import type { VerdictThresholds } from "@/lib/diagnosis/verdict-thresholds";

/** A finding that explains another on the same group takes belief from it: [explains, is explained, share that stays]. */
const explanations: readonly (readonly [Fault, Fault, number])[] = [
  ["acute-event", "over-discharge", 0.6],
  ["weak-cell", "high-resistance-cell", 0.7],
  ["weak-cell", "high-resistance-joint", 0.5],
  ["weak-cell", "imbalance", 0.6],
  ["self-discharge", "imbalance", 0.4],
  ["over-discharge", "imbalance", 0.6],
  ["water-ingress", "self-discharge", 0.25],
  ["water-ingress", "sense-wire", 0.25],
  ["water-ingress", "temperature-sensor", 0.25],
  ["water-ingress", "measurement-fault", 0.25],
  ["water-ingress", "imbalance", 0.25],
  ["over-discharge", "weak-cell", 0.9],
  ["over-discharge", "outside-cause", 0.8],
  ["sense-wire", "measurement-fault", 0.7],
  ["power-stage-fault", "outside-cause", 0.8],
  // Terminals that are cut off tell nothing of the leads.
  ["power-stage-fault", "main-lead", 0.2],
];

/** Most likely first; an acute event always first. Findings explained by another on the same groups lose belief. */
export function rankFindings(
  findings: readonly Finding[],
  { worthNaming, explainsFrom }: Pick<VerdictThresholds, "worthNaming" | "explainsFrom">,
): Finding[] {
  const weighed = findings.map((finding) => {
    let belief = finding.confidence;
    for (const [explains, explained, share] of explanations) {
      if (explained !== finding.fault) continue;
      const cause = findings.find((other) => other.fault === explains && sharesGroup(other, finding));
      if (cause !== undefined && cause.confidence >= explainsFrom) belief *= share;
    }
    return { ...finding, confidence: Math.round(belief * 100) / 100 };
  });
  return weighed.filter((finding) => finding.confidence >= worthNaming).toSorted((a, b) => weight(b) - weight(a));
}

function weight(finding: Finding): number {
  return finding.fault === "acute-event" ? 2 : finding.confidence;
}

function sharesGroup(a: Finding, b: Finding): boolean {
  return a.groups.length === 0 || b.groups.length === 0 || a.groups.some((group) => b.groups.includes(group));
}
