/** One row of a history, as it is stored and never changed. */
export interface HistoryEntry {
  /** The return, or for another track the thing that is followed. */
  readonly returnId: string;
  /** 1 for the first row of a chain, without gaps. */
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
  /** Name of the move; null in rows of the first form. */
  readonly move: string | null;
  /** The same instant on the clock at the dealer's place, with its offset; null in rows of the first form. */
  readonly atLocal: string | null;
  /** What was stated and decided with the move, as JSON; null in rows of the first form. */
  readonly facts: unknown;
}

/** A form changes only with the text's build, so that older rows stay checkable by the form they were written in. */
const historyForms = [
  "return-history-1",
  "return-history-2",
  "track-history-1",
  "incident-history-1",
  "line-history-1",
  "line-history-2",
  "supplier-history-1",
  "issue-history-1",
] as const;
export type HistoryForm = (typeof historyForms)[number];

export function readHistoryForm(stored: string): HistoryForm {
  const form = historyForms.find((known) => known === stored);
  if (form === undefined) throw new RangeError(`form of a history row: ${stored} is unknown`);
  return form;
}

/**
 * The text of a history row that is hashed to chain it to the row before. Every field stands in one fixed order in a
 * JSON array, so two different rows never give the same text, whatever characters a reason holds; the facts stand in
 * it with their keys sorted, because a database may give an object back in another order.
 * Throws RangeError for an instant written in another way, which would make the same row hash differently.
 */
export function canonicalHistoryText(previousHash: string, entry: HistoryEntry, form: HistoryForm): string {
  if (!/^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}[.][0-9]{3}Z$/.test(entry.at)) {
    throw new RangeError(`at: an instant in UTC with milliseconds, not ${entry.at}`);
  }
  return JSON.stringify([
    form,
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
    ...(form === "return-history-1" ? [] : [entry.move, entry.atLocal, withSortedKeys(entry.facts)]),
  ]);
}

function withSortedKeys(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withSortedKeys);
  if (typeof value !== "object" || value === null) return value ?? null;
  return Object.entries(value)
    .filter(([, held]) => held !== undefined)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([key, held]) => [key, withSortedKeys(held)]);
}
