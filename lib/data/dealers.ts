import "server-only";
import type { Actor } from "@/lib/access/actor";
import { asActor } from "./database";

/** Name of the workshop a dealer's user works for; null for the maker's own people. */
export async function readOwnWorkshopName(actor: Actor): Promise<string | null> {
  const { dealerId } = actor;
  if (dealerId === null) return null;
  const dealer = await asActor(actor, (tx) =>
    tx.dealer.findUnique({ where: { id: dealerId }, select: { name: true } }),
  );
  return dealer?.name ?? null;
}
