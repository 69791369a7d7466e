import "server-only";
import { canonicalHistoryText, type HistoryEntry, type HistoryForm } from "@/lib/returns/history-entry";
import { FIRST_PREVIOUS_HASH } from "@/lib/returns/verify-history";
import { sha256 } from "./history";

/** What chains a row to the one before it. */
export interface Link {
  readonly form: HistoryForm;
  readonly previousHash: string;
  readonly hash: string;
}

/** The link of a row; `previousHash` is null for the first that is chained. */
export function linkTo(previousHash: string | null, entry: HistoryEntry, form: HistoryForm): Link {
  const previous = previousHash ?? FIRST_PREVIOUS_HASH;
  return { form, previousHash: previous, hash: sha256(canonicalHistoryText(previous, entry, form)) };
}

export interface IncidentRow {
  readonly incidentId: string;
  readonly sequence: number;
  readonly kind: string;
  readonly content: unknown;
  readonly at: Date;
  readonly byUserId: string;
  readonly byName: string;
}

/** An entry of an incident as it is hashed: each begins with the kind of the one before. */
export function incidentHistoryEntry(row: IncidentRow, before: Pick<IncidentRow, "kind"> | null): HistoryEntry {
  return {
    returnId: row.incidentId,
    sequence: row.sequence,
    at: row.at.toISOString(),
    actorUserId: row.byUserId,
    actorName: row.byName,
    actorRole: "",
    from: before?.kind ?? null,
    to: row.kind,
    reason: "",
    dataVersion: row.sequence,
    ruleVersion: null,
    move: null,
    atLocal: null,
    facts: row.content,
  };
}

export interface LineMoveRow {
  readonly lineId: string;
  readonly version: number;
  readonly from: string | null;
  readonly to: string;
  readonly actorUserId: string;
  readonly actorName: string;
  readonly reason: string;
  readonly at: Date;
}

/** A move of a line of money as it is hashed. */
export function lineHistoryEntry(row: LineMoveRow): HistoryEntry {
  return {
    returnId: row.lineId,
    sequence: row.version,
    at: row.at.toISOString(),
    actorUserId: row.actorUserId,
    actorName: row.actorName,
    actorRole: "",
    from: row.from,
    to: row.to,
    reason: row.reason,
    dataVersion: row.version,
    ruleVersion: null,
    move: null,
    atLocal: null,
    facts: null,
  };
}
