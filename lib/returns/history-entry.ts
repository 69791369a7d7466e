/** One row of a return's history, as it is stored and never changed. */
export interface HistoryEntry {
  readonly returnId: string;
  /** 1 for the first row of a return, without gaps. */
  readonly sequence: number;
  /** Instant in UTC as ISO 8601 with milliseconds: 2026-03-15T23:40:00.000Z. */
  readonly at: string;
  readonly actorUserId: string;
  readonly actorName: string;
  readonly actorRole: string;
  /** Null for the first row. */
  readonly from: string | null;
  readonly to: string;
  readonly reason: string;
  readonly dataVersion: number;
  readonly ruleVersion: string | null;
}

/** Changes only with the text's form, so that older rows stay checkable by the form they were written in. */
const FORM = "return-history-1";

/**
 * The text of a history row that is hashed to chain it to the row before. Every field stands in one fixed order in a
 * JSON array, so two different rows never give the same text, whatever characters a reason holds.
 * Throws RangeError for an instant written in another way, which would make the same row hash differently.
 */
export function canonicalHistoryText(previousHash: string, entry: HistoryEntry): string {
  if (!/^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}[.][0-9]{3}Z$/.test(entry.at)) {
    throw new RangeError(`at: an instant in UTC with milliseconds, not ${entry.at}`);
  }
  return JSON.stringify([
    FORM,
    previousHash,
    entry.returnId,
    entry.sequence,
    entry.at,
    entry.actorUserId,
    entry.actorName,
    entry.actorRole,
    entry.from,
    entry.to,
    entry.reason,
    entry.dataVersion,
    entry.ruleVersion,
  ]);
}
