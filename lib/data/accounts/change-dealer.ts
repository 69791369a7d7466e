import "server-only";
import type { Actor } from "@/lib/access/actor";
import type { DealerChange } from "@/lib/access/dealer-change.schema";
import { may } from "@/lib/access/may";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { fromDateColumn } from "../calendar-columns";
import { asActor } from "../database";

const sentences = {
  "not-allowed": "Dealers are changed by the administrator.",
  "not-found": "There is no dealer with this code.",
  "changed-meanwhile":
    "Somebody changed this dealer while you had it open. Look at it as it is now, then change it again.",
  "nothing-new": "Name and town are as they were. Change one of them.",
} as const;
type Refusal = keyof typeof sentences;

export type ChangeDealerAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: Refusal; readonly sentence: string };

const refuse = (reason: Refusal): ChangeDealerAnswer => ({ ok: false, reason, sentence: sentences[reason] });

/**
 * A workshop took another name, or moved within its country. What it was called before stays on record, with who changed it and
 * why. Country and zone are facts of every return lodged there: one that moves to another country is another dealer.
 */
export async function changeDealer(
  actor: Actor,
  { code, nameSeen, townSeen, name, town, why }: DealerChange,
  now = new Date(),
): Promise<ChangeDealerAnswer> {
  if (!may(actor, "keep-dealers")) return refuse("not-allowed");
  if (name === nameSeen && town === townSeen) return refuse("nothing-new");
  return asActor(actor, async (tx): Promise<ChangeDealerAnswer> => {
    const dealer = await tx.dealer.findUnique({ where: { code }, select: { id: true } });
    if (dealer === null) return refuse("not-found");
    const seen = { id: dealer.id, name: nameSeen, town: townSeen };
    const { count } = await tx.dealer.updateMany({ where: seen, data: { name, town } });
    if (count !== 1) return refuse("changed-meanwhile");
    const names = { nameBefore: nameSeen, nameAfter: name, townBefore: townSeen, townAfter: town };
    const by = { changedByUserId: actor.userId, changedByName: actor.name, changedAt: now };
    await tx.dealerChange.create({ data: { dealerId: dealer.id, ...names, why, ...by }, select: { id: true } });
    return { ok: true };
  });
}

export interface DealerOnRecord {
  readonly code: string;
  readonly name: string;
  readonly town: string;
  readonly country: string;
  readonly timeZone: string;
  readonly joinedOn: CalendarDate;
  /** What it was called before, newest first. */
  readonly changes: readonly {
    readonly nameBefore: string;
    readonly townBefore: string;
    readonly why: string;
    readonly changedByName: string;
    readonly changedAt: Date;
  }[];
}

/** Every dealer by its code, for the administrator; null for others. */
export async function listDealersOnRecord(actor: Actor): Promise<DealerOnRecord[] | null> {
  if (!may(actor, "keep-dealers")) return null;
  const change = { nameBefore: true, townBefore: true, why: true, changedByName: true, changedAt: true } as const;
  const rows = await asActor(actor, (tx) =>
    tx.dealer.findMany({
      select: {
        code: true,
        name: true,
        town: true,
        country: true,
        timeZone: true,
        joinedOn: true,
        changes: { select: change, orderBy: { changedAt: "desc" } },
      },
      orderBy: { code: "asc" },
    }),
  );
  return rows.map(({ joinedOn, ...dealer }) => ({ ...dealer, joinedOn: fromDateColumn(joinedOn) }));
}
