import type { Coverage } from "@/lib/diagnosis/coverage";
import { ruleVersion } from "@/lib/diagnosis/diagnosis-settings";
import type { Fault, Finding, Remedy, Suggestion } from "@/lib/diagnosis/finding";

/** What is known of the return besides the log. Everything may be unknown. */
export interface SuggestionContext {
  readonly cover?: "covered" | "not covered" | "unknown";
  /** A potted pack cannot be opened: no cell swapped, no joint welded anew, no harness reached. */
  readonly potted?: boolean;
  readonly compatibleReplacementKnown?: boolean;
}

/** Usual remedy of each fault. Engineering default: a person decides. */
const usualRemedy: Readonly<Record<Fault, Remedy>> = {
  "weak-cell": "replace",
  "high-resistance-cell": "replace",
  "high-resistance-joint": "repair",
  "self-discharge": "replace",
  "sense-wire": "repair",
  "measurement-fault": "repair",
  "power-stage-fault": "repair",
  imbalance: "remote-fix",
  "over-discharge": "replace",
  "temperature-sensor": "repair",
  "water-ingress": "replace",
  "main-lead": "repair",
  "outside-cause": "remote-fix",
  "no-fault-found": "return-as-is",
  "mechanical-damage": "isolate",
  "acute-event": "isolate",
};

/** Faults whose repair needs the inside of the potting. */
const insidePotting: ReadonlySet<Fault> = new Set(["high-resistance-joint", "sense-wire", "temperature-sensor"]);

/**
 * A suggestion from the findings, with its reasons, most weighty first, and what would change it. Danger comes before
 * likelihood: any finding of class A0 or A1 isolates the pack. A leading finding of low confidence, or one no test of
 * its own supports yet, leads to cannot-tell with the test to do next.
 */
export function suggest(
  findings: readonly Finding[],
  coverage: Coverage,
  leastConfidence: number,
  context: SuggestionContext = {},
): Suggestion {
  const dangerous = findings.find((finding) => finding.safetyClass === "A0" || finding.safetyClass === "A1");
  if (dangerous !== undefined) {
    return answer("isolate", [
      `Safety class ${dangerous.safetyClass}: ${dangerous.evidenceFor[0] ?? dangerous.fault}`,
      ...(dangerous.safetyClass === "A0"
        ? ["Keep away; no handling, no transport."]
        : ["Quarantine; no ordinary transport, do not charge."]),
      "Only a person who has seen the pack may lower this.",
    ]);
  }
  if (coverage.misfit !== null) {
    return answer("cannot-tell", [
      coverage.misfit,
      "Findings of such a file may be another pack's: read the readings from this pack and send that file.",
    ]);
  }
  const leading = findings[0];
  if (leading === undefined) {
    return answer("cannot-tell", [
      ...coverage.missing,
      ...(coverage.missing.length === 0
        ? ["Nothing in the log supports a finding, and not everything could be judged."]
        : []),
      "A pack that cannot be diagnosed is not a sound pack: treat it as damaged or defective until a test says otherwise.",
    ]);
  }
  if (leading.confidence < leastConfidence) {
    return answer("cannot-tell", [
      `The likeliest finding, ${leading.fault}, has a confidence of only ${leading.confidence.toFixed(2)}.`,
      `Next: ${leading.nextTest}`,
      ...coverage.missing,
    ]);
  }
  return forFinding(leading, findings, context);
}

function forFinding(leading: Finding, findings: readonly Finding[], context: SuggestionContext): Suggestion {
  const reasons = [...leading.evidenceFor.slice(0, 2)];
  let remedy = usualRemedy[leading.fault];
  if (leading.fault === "imbalance" && leading.safetyClass === "B") {
    remedy = "repair";
    reasons.push("The offset is too large for an unattended balance charge: balance at the bench, then watch it rest.");
  }
  if (context.potted === true && remedy === "repair" && insidePotting.has(leading.fault)) {
    remedy = "replace";
    reasons.push("The pack is potted: the place of this fault cannot be reached.");
  }
  if (remedy === "replace" && context.compatibleReplacementKnown === false) {
    reasons.push("No compatible replacement is known: find one before promising it.");
  }
  if (context.cover === "not covered" && remedy !== "return-as-is") {
    reasons.push("The pack is outside its warranty window: ask before doing paid work.");
  }
  const rival = findings.find((other) => other !== leading && usualRemedy[other.fault] !== remedy);
  reasons.push(
    rival === undefined
      ? `To confirm: ${leading.nextTest}`
      : `It would change if the finding were ${rival.fault} (confidence ${rival.confidence.toFixed(2)}). To separate them: ${leading.nextTest}`,
  );
  return answer(remedy, reasons);
}

function answer(remedy: Remedy, reasons: readonly string[]): Suggestion {
  return { remedy, reasons, ruleVersion };
}
