import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";
import { asActor } from "../database";

export interface RevisionIssue {
  readonly title: string;
  readonly action: string;
  readonly lot: { readonly code: string; readonly supplier: string } | null;
  readonly set: { readonly number: number } | null;
  readonly faults: readonly string[];
  readonly openedOn: string;
  readonly closedOn: string | null;
  readonly stopShip: boolean;
}

/** What is or was known to be wrong with packs of a revision: bound to it, to a lot that was built into one of its packs, or to a set of them. */
export async function listRevisionIssues(actor: Actor, revisionCode: string): Promise<RevisionIssue[] | null> {
  if (!may(actor, "read-reliability")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.knownIssue.findMany({
      where: {
        OR: [
          { revision: { code: revisionCode } },
          { revisionId: null, lot: { packs: { some: { pack: { revision: { code: revisionCode } } } } } },
          { set: { packs: { some: { pack: { revision: { code: revisionCode } } } } } },
        ],
      },
      select: {
        title: true,
        action: true,
        lot: { select: { code: true, supplier: true } },
        set: { select: { number: true } },
        faults: true,
        openedOn: true,
        closedOn: true,
        stopShip: true,
      },
      orderBy: { openedOn: "desc" },
    }),
  );
  return rows.map((row) => ({
    ...row,
    openedOn: fromDateColumn(row.openedOn),
    closedOn: fromOptionalDateColumn(row.closedOn),
  }));
}
