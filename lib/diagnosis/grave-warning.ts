import { type Fault, type Finding, isGrave, safetyClasses } from "@/lib/diagnosis/finding";
import { plainFaultOf, plainIsolation, plainMeaningOf } from "@/lib/diagnosis/plain-reasons";

/** Whose care at once is said by what is done with such a pack anyway: it is not said twice in one warning. */
const saidAnyway: Readonly<Record<"acute" | "critical", readonly Fault[]>> = {
  acute: ["acute-event"],
  critical: ["self-discharge", "sense-wire", "over-discharge"],
};

/**
 * What is said before anything else of a file that shows a danger, in plain sentences and of the gravest of its findings; null where
 * it shows none. It holds whatever else is open about the file: whose it is, what its columns are.
 */
export function graveWarning(findings: readonly Finding[]): string | null {
  const [gravest] = findings
    .filter(({ safetyClass }) => isGrave(safetyClass))
    .toSorted((one, other) => safetyClasses.indexOf(one.safetyClass) - safetyClasses.indexOf(other.safetyClass));
  if (gravest === undefined) return null;
  const kind = gravest.safetyClass === "A0" ? "acute" : "critical";
  const shown = saidAnyway[kind].includes(gravest.fault) ? plainMeaningOf(gravest) : plainFaultOf(gravest);
  return `${shown} ${plainIsolation[kind]}`;
}
