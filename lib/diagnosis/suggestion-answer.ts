import { sayConfidence } from "@/lib/diagnosis/confidence-words";
import { ruleVersion } from "@/lib/diagnosis/diagnosis-settings";
import { faultWords } from "@/lib/diagnosis/fault-words";
import type { Finding, Remedy, Suggestion } from "@/lib/diagnosis/finding";
import { lowerFirst, namedGroups } from "@/lib/diagnosis/wording";

export const unsound =
  "A pack that cannot be diagnosed is not a sound pack: treat it as damaged or defective until a test says otherwise.";

export function alsoFound(finding: Finding): string {
  const { fault, groups } = finding;
  const where = groups.length === 0 ? "" : ` at ${namedGroups(groups)}`;
  return `Also found: ${faultWords[fault].toLowerCase()}${where} (${inHundred(finding)}).`;
}

/** "likely, 72 in 100", within a sentence. */
export function inHundred({ confidence }: Finding): string {
  return lowerFirst(sayConfidence(confidence));
}

interface Beside {
  readonly plain: readonly string[];
  readonly wouldChange: readonly string[];
  readonly missing: readonly string[];
}

export function answer(
  remedy: Remedy,
  reasons: readonly string[],
  { plain, wouldChange, missing }: Beside,
): Suggestion {
  return { remedy, reasons, plainReasons: plain, wouldChange, missing, ruleVersion };
}
