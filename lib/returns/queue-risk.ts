import { type SafetyClass, safetyClasses } from "@/lib/diagnosis/finding";
import { dangerAnswers, dangerOf } from "./danger-signs";
import { isSetApart, mayNotBeMoved, type SafetyState } from "./safety-track";

/** How grave, for shape and colour beside the words. */
export type RiskTone = "danger" | "warn" | "plain" | "good";

export interface QueueRisk {
  readonly tone: RiskTone;
  readonly words: string;
}

const shortWords: Readonly<Record<SafetyClass, QueueRisk>> = {
  A0: { tone: "danger", words: "Danger now" },
  A1: { tone: "danger", words: "Critical, in quarantine" },
  B: { tone: "warn", words: "Damaged or defective" },
  U: { tone: "plain", words: "Cannot be judged yet" },
  C: { tone: "good", words: "Not classed as damaged" },
};

/** The gravest class among the findings; null where there is no finding. */
export function worstSafetyClass(stored: readonly string[]): SafetyClass | null {
  return safetyClasses.find((safetyClass) => stored.includes(safetyClass)) ?? null;
}

/**
 * The class a pack is handled by, going by its readings: that of the gravest finding, not of the likeliest. Where the
 * readings do not say what is to be done, or no finding is stored, it cannot be judged and is never handled as sound.
 */
export function classToHandleBy(stored: readonly string[], suggestedRemedy: string | null): SafetyClass {
  const worst = worstSafetyClass(suggestedRemedy === "cannot-tell" ? [...stored, "U"] : stored);
  return worst ?? "U";
}

/**
 * What a row of the queue says about the risk, in three words: danger signs told by the dealer outrank whatever a file
 * shows, so does a flag raised since, and a return without findings, or whose readings do not say what is to be done, is one
 * that cannot be judged, never a harmless one. A pack the readings set apart is said to be critical whatever its class.
 */
export function queueRisk(
  dangerSigns: readonly string[],
  safetyClasses: readonly string[],
  flag: SafetyState,
  suggestedRemedy: string | null,
): QueueRisk {
  const danger = dangerOf(dangerAnswers.filter((answer) => dangerSigns.includes(answer)));
  const worst = classToHandleBy(safetyClasses, suggestedRemedy);
  if (danger.kind === "keep-away") return { tone: "danger", words: "Danger signs, going on now" };
  if (mayNotBeMoved(flag)) return { tone: "danger", words: "Flagged: do not move" };
  if (worst === "A0") return shortWords.A0;
  if (danger.kind === "set-apart") return { tone: "danger", words: "Danger signs told" };
  if (isSetApart(flag)) return { tone: "danger", words: "Flagged: set apart" };
  return shortWords[suggestedRemedy === "isolate" ? "A1" : worst];
}
