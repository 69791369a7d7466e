import { type SafetyClass, safetyClasses } from "@/lib/diagnosis/finding";
import { readStoredClass } from "@/lib/diagnosis/stored-finding";
import { type Danger, dangerTold } from "./danger-signs";
import { isSetApart, mayNotBeMoved, type SafetyState } from "./safety-track";

/** How grave, for shape and colour beside the words. */
export type RiskTone = "danger" | "warn" | "plain" | "good";

export interface QueueRisk {
  readonly tone: RiskTone;
  readonly words: string;
}

const shortWords: Readonly<Record<RiskReason, QueueRisk>> = {
  "signs going on": { tone: "danger", words: "Danger signs, going on now" },
  "flagged: do not move": { tone: "danger", words: "Flagged: do not move" },
  "signs told": { tone: "danger", words: "Danger signs told" },
  "flagged: set apart": { tone: "danger", words: "Flagged: set apart" },
  A0: { tone: "danger", words: "Danger now" },
  A1: { tone: "danger", words: "Critical, in quarantine" },
  B: { tone: "warn", words: "Damaged or defective" },
  U: { tone: "plain", words: "Cannot be judged yet" },
  C: { tone: "good", words: "Not classed as damaged" },
};

/** The gravest class among the findings; null where there is no finding. */
export function worstSafetyClass(stored: readonly string[]): SafetyClass | null {
  const known = stored.map(readStoredClass);
  return safetyClasses.find((safetyClass) => known.includes(safetyClass)) ?? null;
}

/**
 * The class a pack is handled by, going by its readings: that of the gravest finding, not of the likeliest. Where the
 * readings do not say what is to be done, or no finding is stored, it cannot be judged and is never handled as sound.
 */
export function classToHandleBy(stored: readonly string[], suggestedRemedy: string | null): SafetyClass {
  const worst = worstSafetyClass(suggestedRemedy === "cannot-tell" ? [...stored, "U"] : stored);
  return worst ?? "U";
}

/** Why a pack stands where it does in the queue, gravest first: a reason, not a class, because a sign told outranks a file. */
export type RiskReason =
  | "signs going on"
  | "flagged: do not move"
  | "A0"
  | "signs told"
  | "flagged: set apart"
  | "A1"
  | "B"
  | "U"
  | "C";

/**
 * The one judgement behind the words and the order of the queue. Danger signs told by the dealer outrank whatever a file
 * shows, so does a flag raised since, and a return without findings, or whose readings do not say what is to be done, is one
 * that cannot be judged, never a harmless one. A pack the readings set apart is critical whatever its class.
 */
export function riskReason(
  danger: Danger["kind"],
  stored: readonly string[],
  flag: SafetyState,
  suggestedRemedy: string | null,
): RiskReason {
  const worst = classToHandleBy(stored, suggestedRemedy);
  if (danger === "keep-away") return "signs going on";
  if (mayNotBeMoved(flag)) return "flagged: do not move";
  if (worst === "A0") return "A0";
  if (danger === "set-apart") return "signs told";
  if (isSetApart(flag)) return "flagged: set apart";
  return suggestedRemedy === "isolate" ? "A1" : worst;
}

/** What a row of the queue says about the risk, in three words. */
export function queueRisk(
  dangerSigns: readonly string[],
  stored: readonly string[],
  flag: SafetyState,
  suggestedRemedy: string | null,
): QueueRisk {
  const danger = dangerTold(dangerSigns);
  return shortWords[riskReason(danger.kind, stored, flag, suggestedRemedy)];
}
