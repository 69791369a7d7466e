import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { asActor } from "../database";

/** Name of the workshop a dealer's user works for; null for the maker's own people. */
export async function readOwnWorkshopName(actor: Actor): Promise<string | null> {
  const { dealerId } = actor;
  if (dealerId === null) return null;
  const dealer = await asActor(actor, (tx) =>
    tx.dealer.findUnique({ where: { id: dealerId }, select: { name: true } }),
  );
  return dealer?.name ?? null;
}

export interface DealerChoice {
  readonly code: string;
  /** "Workshop name, town". */
  readonly name: string;
}

/** Every dealer by name, for those of the house who act for one; empty for others. */
export async function listDealers(actor: Actor): Promise<DealerChoice[]> {
  if (!may(actor, "lodge-on-behalf") && !may(actor, "manage-all-accounts")) return [];
  const rows = await asActor(actor, (tx) =>
    tx.dealer.findMany({ select: { code: true, name: true, town: true }, orderBy: { name: "asc" } }),
  );
  return rows.map(({ code, name, town }) => ({ code, name: `${name}, ${town}` }));
}
