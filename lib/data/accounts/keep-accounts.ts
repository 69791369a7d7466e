import "server-only";
import {
  type AccountChange,
  type AccountRefusal,
  accountSentences,
  type NewAccountWish,
  rolesToGive,
  whyNotChanged,
} from "@/lib/access/account-rules";
import { type Actor, isDealerRole, roles } from "@/lib/access/actor";
import { asSystem, type Transaction } from "../database";
import { whichAccounts } from "./users";

type Refusal = AccountRefusal | "not-found" | "no-such-dealer" | "dealer-missing";
export type AccountAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: Refusal; readonly sentence: string };

const sentences: Readonly<Record<Refusal, string>> = {
  ...accountSentences,
  "not-found": "There is no such account for you.",
  "no-such-dealer": "There is no dealer with this code.",
  "dealer-missing": "A dealer's account needs its dealer, and an account of the house has none.",
};
const refuseAccount = (reason: Refusal): Extract<AccountAnswer, { ok: false }> => ({
  ok: false,
  reason,
  sentence: sentences[reason],
});

/**
 * Whether this person may open the account they wish, and for which dealer. As the system, because nobody's transaction
 * reads accounts; a dealer's own administrator gets the own dealer whatever the wish says.
 */
export async function whereToOpen(
  actor: Actor,
  { role, dealerCode }: NewAccountWish,
): Promise<{ readonly ok: true; readonly dealerId: string | null } | Extract<AccountAnswer, { ok: false }>> {
  if (!rolesToGive(actor).includes(role)) return refuseAccount("role-not-theirs");
  if (actor.dealerId !== null) return { ok: true, dealerId: actor.dealerId };
  if (isDealerRole(role) !== (dealerCode !== "")) return refuseAccount("dealer-missing");
  if (!isDealerRole(role)) return { ok: true, dealerId: null };
  const dealer = await asSystem((tx) => tx.dealer.findUnique({ where: { code: dealerCode }, select: { id: true } }));
  return dealer === null ? refuseAccount("no-such-dealer") : { ok: true, dealerId: dealer.id };
}

/** Changes name and role. A new role ends the sessions, so that nothing goes on under the old one. */
export function editAccount(actor: Actor, userId: string, wish: { name: string; role: (typeof roles)[number] }) {
  return changeAccount(actor, userId, { kind: "role", role: wish.role }, async (tx, before) => {
    const isOther = before.role !== wish.role;
    // Whoever takes another office was named in the old one.
    const data = { name: wish.name, role: wish.role, ...(isOther ? { safetyDeputyUntil: null } : {}) };
    await tx.user.update({ where: { id: userId }, data, select: { id: true } });
    if (isOther) await endAll(tx, userId);
  });
}

/** Closes an account: every session ends with it, and nobody signs in with it any more. What it did stays in its name. */
export function closeAccount(actor: Actor, userId: string, now = new Date()): Promise<AccountAnswer> {
  return changeAccount(actor, userId, { kind: "close" }, async (tx) => {
    await tx.user.updateMany({ where: { id: userId, disabledAt: null }, data: { disabledAt: now } });
    await endAll(tx, userId);
  });
}

/** Names somebody as deputy of the safety officer until the end of a day (UTC), or ends it; every session reads it anew. */
export function nameDeputy(actor: Actor, userId: string, until: string | null): Promise<AccountAnswer> {
  return changeAccount(actor, userId, { kind: "deputy" }, async (tx) => {
    const safetyDeputyUntil = until === null ? null : new Date(`${until}T23:59:59.999Z`);
    await tx.user.update({ where: { id: userId }, data: { safetyDeputyUntil }, select: { id: true } });
  });
}

export function openAccountAgain(actor: Actor, userId: string): Promise<AccountAnswer> {
  return changeAccount(actor, userId, { kind: "open-again" }, async (tx) => {
    await tx.user.update({ where: { id: userId }, data: { disabledAt: null }, select: { id: true } });
  });
}

/** Whether this person keeps the account, for a new invitation. */
export async function maySendInvitation(
  actor: Actor,
  userId: string,
): Promise<{ readonly ok: true; readonly email: string } | Extract<AccountAnswer, { ok: false }>> {
  const where = whichAccounts(actor);
  if (where === null) return refuseAccount("not-found");
  const found = await asSystem((tx) =>
    tx.user.findFirst({ where: { id: userId, disabledAt: null, ...where }, select: { role: true, email: true } }),
  );
  if (found === null) return refuseAccount("not-found");
  return rolesToGive(actor).some((role) => role === found.role)
    ? { ok: true, email: found.email }
    : refuseAccount("not-theirs");
}

interface Before {
  readonly role: string;
}

async function changeAccount(
  actor: Actor,
  userId: string,
  change: AccountChange,
  save: (tx: Transaction, before: Before) => Promise<void>,
): Promise<AccountAnswer> {
  const where = whichAccounts(actor);
  if (where === null) return refuseAccount("not-found");
  return asSystem(async (tx) => {
    // Two of an office who close each other at once: the second sees that it is the last.
    await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtext('accounts'))`;
    const found = await tx.user.findFirst({
      where: { id: userId, ...where },
      select: { role: true, disabledAt: true },
    });
    const role = roles.find((known) => known === found?.role);
    if (found === null || role === undefined) return refuseAccount("not-found");
    const others = await tx.user.count({ where: { role, disabledAt: null, id: { not: userId } } });
    const facts = { userId, role, isClosed: found.disabledAt !== null };
    const why = whyNotChanged(actor, facts, change, others);
    if (why !== null) return refuseAccount(why);
    await save(tx, found);
    return { ok: true };
  });
}

async function endAll(tx: Transaction, userId: string): Promise<void> {
  await tx.session.deleteMany({ where: { userId } });
  // An invitation that is still under way would open the account anew.
  await tx.verification.deleteMany({ where: { identifier: `invitation ${userId}` } });
}
