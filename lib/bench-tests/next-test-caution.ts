import type { Fault } from "@/lib/diagnosis/finding";
import { readStoredFault } from "@/lib/diagnosis/stored-finding";
import { LIVE, LOADED } from "./draft-parts";
import { type TestDefinition, testPhases } from "./test-definition.schema";

/** How the test after each finding touches the pack: it only looks, it works on a live pack, or it puts current through it. */
const touch: Readonly<Record<Fault, "look" | "live" | "loaded">> = {
  "weak-cell": "loaded",
  "high-resistance-cell": "loaded",
  "high-resistance-joint": "loaded",
  "self-discharge": "live",
  "sense-wire": "live",
  "measurement-fault": "live",
  "power-stage-fault": "loaded",
  imbalance: "loaded",
  "over-discharge": "loaded",
  "temperature-sensor": "live",
  "water-ingress": "live",
  "main-lead": "loaded",
  "outside-cause": "loaded",
  "no-fault-found": "loaded",
  "mechanical-damage": "look",
  "acute-event": "look",
};

/**
 * The caution that belongs before the next test of a finding, whatever its class: a pack classed as sound is as live as
 * any. Null where the test only looks. A fault of a release nobody knows any more gets the stricter one.
 */
export function nextTestCaution(storedFault: string): string | null {
  const fault = readStoredFault(storedFault);
  const how = fault === null ? "loaded" : touch[fault];
  if (how === "look") return null;
  return how === "live" ? LIVE : LOADED;
}

/**
 * The caution that belongs before the test a suggestion names, which is that of its likeliest finding. Without a finding the
 * test is unknown and gets the stricter one; null where the pack is set apart, because then no test is named.
 */
export function suggestedTestCaution(
  suggestedRemedy: string,
  findings: readonly { readonly fault: string }[],
): string | null {
  return suggestedRemedy === "isolate" ? null : nextTestCaution(findings[0]?.fault ?? "");
}

/** A plan's own caution of a test; where it has none, that of the phase. Empty only for a test that looks. */
export function planTestCaution({ caution, phase }: Pick<TestDefinition, "caution" | "phase">): string {
  if (caution !== "" || phase === "look") return caution;
  return testPhases.indexOf(phase) < testPhases.indexOf("light-load") ? LIVE : LOADED;
}
