import "server-only";
import type { Actor } from "@/lib/access/actor";
import type { Prisma } from "@/prisma/generated/client";
import { issueHistoryEntry, linkTo } from "../chains/chained-rows";
import type { Transaction } from "../database";

export type IssueEntryKind =
  | "opening-proposed"
  | "opened"
  | "opening-dropped"
  | "closing-proposed"
  | "closed"
  | "closing-dropped";

export interface IssueEntryToAdd {
  readonly issueId: string;
  readonly kind: IssueEntryKind;
  readonly content: Prisma.InputJsonObject;
  readonly why: string;
  readonly at: Date;
}

/** Writes down what happened to an issue, chained to what happened before; in the transaction in which it happens. */
export async function addIssueEntry(tx: Transaction, by: Actor, entry: IssueEntryToAdd): Promise<void> {
  const before = await tx.issueEntry.findFirst({
    where: { issueId: entry.issueId },
    orderBy: { sequence: "desc" },
    select: { sequence: true, kind: true, hash: true },
  });
  const row = {
    ...entry,
    sequence: (before?.sequence ?? 0) + 1,
    byUserId: by.userId,
    byName: by.name,
    byRole: by.role,
  };
  const link = linkTo(before?.hash ?? null, issueHistoryEntry(row, before), "issue-history-1");
  await tx.issueEntry.createMany({ data: [{ ...row, ...link }] });
}
