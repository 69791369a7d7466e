import "server-only";
import { canonicalHistoryText, type HistoryEntry, type HistoryForm } from "@/lib/returns/history-entry";
import { FIRST_PREVIOUS_HASH } from "@/lib/returns/verify-history";
import type { Prisma } from "@/prisma/generated/client";
import { sha256 } from "../returns/history";

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

export interface IssueRow {
  readonly issueId: string;
  readonly sequence: number;
  readonly kind: string;
  readonly content: unknown;
  readonly why: string;
  readonly at: Date;
  readonly byUserId: string;
  readonly byName: string;
  readonly byRole: string;
}

/** What happened to a known issue as it is hashed, with what was proposed. */
export function issueHistoryEntry(row: IssueRow, before: Pick<IssueRow, "kind"> | null): HistoryEntry {
  return {
    ...incidentHistoryEntry({ ...row, incidentId: row.issueId }, before),
    actorRole: row.byRole,
    reason: row.why,
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

/** What a line of money is about and never changes: it stands in the hash of each of its moves from the second form on. */
export const moneyFactsSelect = {
  returnId: true,
  dealerId: true,
  kind: true,
  operation: true,
  minutes: true,
  rateId: true,
  currency: true,
  amountMinor: true,
  reversesLineId: true,
  claimedByUserId: true,
} as const satisfies Prisma.SettlementLineSelect;

export type MoneyFacts = Prisma.SettlementLineGetPayload<{ select: typeof moneyFactsSelect }>;

/** What a supplier's line is about and never changes: it stands in the hash of each of its moves. */
export const supplierFactsSelect = {
  returnId: true,
  lotId: true,
  lotCode: true,
  supplier: true,
  currency: true,
  amountMinor: true,
  noticeBy: true,
  why: true,
  openedAt: true,
  openedByUserId: true,
} as const satisfies Prisma.SupplierClaimSelect;

export type SupplierFacts = Prisma.SupplierClaimGetPayload<{ select: typeof supplierFactsSelect }>;

export interface SupplierMoveRow extends Omit<LineMoveRow, "lineId"> {
  readonly claimId: string;
  readonly actorRole: string;
  readonly sharePercent: number | null;
  readonly amountMinor: number | null;
}

/** A move of a supplier's line as it is hashed, with the share and the amount that were stated with it. */
export function supplierHistoryEntry(row: SupplierMoveRow, line: SupplierFacts): HistoryEntry {
  const { claimId, sharePercent, amountMinor, ...move } = row;
  const openedAt = line.openedAt.toISOString();
  const noticeBy = line.noticeBy?.toISOString() ?? null;
  return {
    ...lineHistoryEntry({ ...move, lineId: claimId }, null),
    actorRole: row.actorRole,
    facts: { line: { ...line, openedAt, noticeBy }, sharePercent, amountMinor },
  };
}

/** A move of a line of money as it is hashed; in the first form without what the line is about. */
export function lineHistoryEntry(row: LineMoveRow, line: MoneyFacts | null): HistoryEntry {
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
    facts: line,
  };
}
