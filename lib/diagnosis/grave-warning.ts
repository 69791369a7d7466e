import { type Finding, isGrave, safetyClasses } from "@/lib/diagnosis/finding";
import { plainFaultOf, plainIsolation } from "@/lib/diagnosis/plain-reasons";

/**
 * What is said before anything else of a file that shows a danger, in plain sentences and of the gravest of its findings; null where
 * it shows none. It holds whatever else is open about the file: whose it is, what its columns are.
 */
export function graveWarning(findings: readonly Finding[]): string | null {
  const [gravest] = findings
    .filter(({ safetyClass }) => isGrave(safetyClass))
    .toSorted((one, other) => safetyClasses.indexOf(one.safetyClass) - safetyClasses.indexOf(other.safetyClass));
  if (gravest === undefined) return null;
  return `${plainFaultOf(gravest)} ${gravest.safetyClass === "A0" ? plainIsolation.acute : plainIsolation.critical}`;
}
