import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { NewDealer } from "@/lib/access/new-dealer.schema";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { toDateColumn } from "../calendar-columns";
import { asActor } from "../database";
import { breaksUnique } from "../unique-violation";

const sentences = {
  "not-allowed": "Dealers are added by the administrator.",
  "code-taken": "There is a dealer with this code already.",
  "day-to-come": "This day is still to come at that place.",
} as const;
type Refusal = keyof typeof sentences;

export type AddDealerAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: Refusal; readonly sentence: string };

const refuse = (reason: Refusal): AddDealerAnswer => ({ ok: false, reason, sentence: sentences[reason] });

/** Adds a dealer, in the name of whoever did. Its code, country and zone are facts of every return it lodges, so nothing edits them. */
export async function addDealer(
  actor: Actor,
  { joinedOn, ...dealer }: NewDealer,
  now = new Date(),
): Promise<AddDealerAnswer> {
  if (!may(actor, "keep-dealers")) return refuse("not-allowed");
  if (joinedOn > civilDateAt(now, dealer.timeZone)) return refuse("day-to-come");
  const added = { addedByUserId: actor.userId, addedByName: actor.name, addedAt: now };
  try {
    await asActor(actor, (tx) =>
      tx.dealer.create({ data: { ...dealer, joinedOn: toDateColumn(joinedOn), ...added }, select: { id: true } }),
    );
    return { ok: true };
  } catch (error) {
    if (breaksUnique(error, "Dealer_code_key")) return refuse("code-taken");
    throw error;
  }
}
