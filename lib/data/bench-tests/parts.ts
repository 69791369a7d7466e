import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type PartKind, partKinds, readPartKind } from "@/lib/repair/operations";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { toDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";

export interface PartLot {
  readonly id: string;
  readonly kind: PartKind;
  readonly code: string;
  readonly supplier: string;
  readonly bookedIn: number;
  readonly used: number;
  /** Title of the open issue that stops the lot; null where none does. */
  readonly stop: string | null;
}

const partSelect = {
  id: true,
  kind: true,
  code: true,
  supplier: true,
  partReceipts: { select: { quantity: true } },
  _count: { select: { workEntries: { where: { struck: null } } } },
  issues: { where: { closedOn: null, stopShip: true, revisionId: null }, select: { title: true }, take: 1 },
} as const;

/** Lots of parts on the shelf, by kind and code; null for whoever does not work on packs or read how they are built. */
export async function listParts(actor: Actor): Promise<PartLot[] | null> {
  if (!may(actor, "read-build-record")) return null;
  return asActor(actor, async (tx) => {
    const rows = await tx.lot.findMany({
      where: { partReceipts: { some: {} } },
      select: partSelect,
      orderBy: [{ kind: "asc" }, { code: "asc" }],
    });
    return rows.map(partOf);
  });
}

/** A lot of parts by kind and code as typed; null where none of that kind and code is booked in. */
export async function findPart(tx: Transaction, kind: PartKind, code: string): Promise<PartLot | null> {
  const row = await tx.lot.findFirst({
    where: { kind, code: { equals: code, mode: "insensitive" }, partReceipts: { some: {} } },
    select: partSelect,
  });
  return row === null ? null : partOf(row);
}

type PartRow = {
  id: string;
  kind: string;
  code: string;
  supplier: string;
  partReceipts: { quantity: number }[];
  _count: { workEntries: number };
  issues: { title: string }[];
};

function partOf({ partReceipts, _count, issues, kind, ...lot }: PartRow): PartLot {
  return {
    ...lot,
    kind: readPartKind(kind),
    bookedIn: partReceipts.reduce((sum, { quantity }) => sum + quantity, 0),
    used: _count.workEntries,
    stop: issues[0]?.title ?? null,
  };
}

export type BookAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly field: string; readonly sentence: string };

/** Books parts in; a lot that is known already (from production, say) keeps its supplier, and another name is refused. */
export async function bookPartsIn(
  actor: Actor,
  part: {
    readonly kind: string;
    readonly lotCode: string;
    readonly supplier: string;
    readonly quantity: number;
  },
  now = new Date(),
): Promise<BookAnswer> {
  if (!may(actor, "work-on-pack")) return { ok: false, field: "form", sentence: "This is not yours to do." };
  const kind = partKinds.find((known) => known === part.kind);
  if (kind === undefined) return { ok: false, field: "kind", sentence: "Choose what kind of part it is." };
  return asActor(actor, async (tx) => {
    const known = await tx.lot.findFirst({
      where: { kind, code: { equals: part.lotCode, mode: "insensitive" } },
      select: { id: true, supplier: true },
    });
    if (known !== null && known.supplier !== part.supplier)
      return {
        ok: false,
        field: "supplier",
        sentence: `This lot is on record as from ${known.supplier}. Compare it with the bag.`,
      };
    const lotId = known?.id ?? crypto.randomUUID();
    if (known === null) {
      const receivedOn = toDateColumn(civilDateAt(now, "UTC"));
      await tx.lot.createMany({ data: [{ id: lotId, kind, code: part.lotCode, supplier: part.supplier, receivedOn }] });
    }
    await tx.partReceipt.createMany({
      data: [{ lotId, quantity: part.quantity, receivedAt: now, byUserId: actor.userId, byName: actor.name }],
    });
    return { ok: true };
  });
}
