import type { Coverage } from "@/lib/diagnosis/coverage";
import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence } from "@/lib/diagnosis/wording";

/**
 * F14: everything that can be judged was judged and is sound. Never from a log that could not have shown a fault; classes
 * it could not have shown are named against it. Without an answer on load or on charge the cells are not diagnosed: class U.
 */
export function noFaultFound(evidence: Evidence, coverage: Coverage, others: readonly Finding[]): Finding[] {
  if (others.length > 0 || coverage.missing.length > 0 || evidence.acute.length > 0) return [];
  return [
    {
      fault: "no-fault-found",
      groups: [],
      confidence: confidence(0.86 - 0.07 * coverage.unanswered),
      safetyClass: coverage.cellsOpen.length === 0 ? "C" : "U",
      evidenceFor: coverage.judged,
      evidenceAgainst: coverage.remarks,
      nextTest: nextTest(coverage),
    },
  ];
}

/** The first class not seen names the test; a sound file that showed all is held against the customer's conditions. */
function nextTest({ unseen }: Coverage): string {
  const again = "Repeat the customer's conditions (temperature, load) with a second log.";
  const first = unseen[0];
  return first === undefined ? again : `${first.next} ${again}`;
}
