import { coverLabels } from "@/app/_components/cover-labels";
import { labelOf } from "@/app/_components/label-of";
import type { StatusTone } from "@/app/_components/status-line";
import type { QueueRow } from "@/lib/data/returns/return-queue";
import { sayFault } from "@/lib/diagnosis/fault-words";
import { listed } from "@/lib/diagnosis/wording";
import { dangerLabels } from "@/lib/returns/danger-signs";
import { remedyLabels } from "@/lib/returns/decision.schema";
import { queueRisk } from "@/lib/returns/queue-risk";
import { returnStatusWords } from "@/lib/returns/return-status";
import { turnWords } from "@/lib/returns/return-turn";
import { symptomLabels } from "@/lib/returns/symptoms";
import { countryName } from "@/lib/transport/country-name";

/** A row of the queue as it is read: words and instants, nothing left to look up. */
export interface QueueRowWords {
  readonly reference: string;
  readonly lodgedAt: Date;
  readonly risk: { readonly tone: StatusTone; readonly words: string };
  /** Danger signs told; null where there were none. */
  readonly dangerSigns: string | null;
  readonly isHeld: boolean;
  readonly serialShown: string;
  readonly modelName: string;
  readonly revisionCode: string;
  readonly dealerName: string;
  readonly country: string;
  readonly complaint: string;
  readonly readings: string;
  readonly guarantee: string;
  readonly status: string;
  readonly isOverdue: boolean;
  readonly remedy: string | null;
  /** Who acts by when; null where nothing is due. */
  readonly due: { readonly whose: string; readonly at: Date; readonly isPaused: boolean } | null;
  readonly takenBy: string;
}

export function queueWords(row: QueueRow): QueueRowWords {
  const { reference, lodgedAt, serialShown, modelName, revisionCode, dealerName, isOverdue, isHeld } = row;
  const ofCase = row.caseClass === null ? [] : [row.caseClass];
  const safetyClasses = [...row.findings.map(({ safetyClass }) => safetyClass), ...ofCase];
  return {
    reference,
    lodgedAt,
    serialShown,
    modelName,
    revisionCode,
    dealerName,
    isOverdue,
    isHeld,
    risk: queueRisk(row.dangerSigns, safetyClasses, row.flag, row.suggestedRemedy),
    dangerSigns:
      row.dangerSigns.length === 0 ? null : listed(row.dangerSigns.map((sign) => labelOf(dangerLabels, sign))),
    country: countryName(row.country),
    complaint: labelOf(symptomLabels, row.symptom),
    readings: readingsSay(row),
    guarantee: labelOf(coverLabels, row.coverOutcome),
    status: returnStatusWords(row.status),
    remedy: row.remedy === null ? null : labelOf(remedyLabels, row.remedy),
    due: row.dueAt === null ? null : { whose: turnWords[row.turn], at: row.dueAt, isPaused: row.isPaused },
    takenBy: row.takenByName ?? "Nobody has it",
  };
}

function readingsSay({ findings, hasReadings }: QueueRow): string {
  const [first, ...others] = findings;
  if (first !== undefined) {
    const more = others.length === 0 ? "" : `, and ${others.length} more`;
    return `Readings point to: ${sayFault(first.fault)}${more}`;
  }
  return hasReadings ? "Readings point to nothing yet" : "No readings file";
}
