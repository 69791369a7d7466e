import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { DAY_MS } from "@/lib/warranty/clock-spans";
import type { Prisma } from "@/prisma/generated/client";
import { asSystem, type Transaction } from "../database";

/** Older messages that reached nobody help nobody any more. Engineering default. */
const SHOWN_DAYS = 30;

interface Audience {
  readonly dealerId: string | null;
  readonly audienceRole: string | null;
}

/** The people a notice goes to: those of its dealer, or who hold its office today. */
export async function readAddressees(tx: Transaction, audience: Audience, now: Date) {
  const people = await findPeople(tx, whoHears(audience, now));
  if (people.length > 0 || audience.audienceRole !== "safety-officer") return people;
  // Nobody holds that office and nobody stands in for it: a danger must still reach somebody who can name one.
  return findPeople(tx, { role: "manager" });
}

function findPeople(tx: Transaction, where: Prisma.UserWhereInput) {
  return tx.user.findMany({
    where: { disabledAt: null, ...where },
    select: { id: true, email: true, noticeLanguage: true },
  });
}

/** What goes to the safety officer goes to whoever is named as deputy today as well. */
function whoHears({ dealerId, audienceRole }: Audience, now: Date): Prisma.UserWhereInput {
  if (dealerId !== null) return { dealerId };
  const role = audienceRole ?? "";
  return role === "safety-officer" ? { OR: [{ role }, { safetyDeputyUntil: { gt: now } }] } : { role };
}

export interface UnreachedAudience {
  /** Null for an office of the house. */
  readonly dealerName: string | null;
  readonly role: string | null;
  readonly messages: number;
  readonly lastQueuedAt: Date;
}

/**
 * Offices and dealers that messages of the last days were for and that no open account belongs to, the newest first. As the
 * system, because nobody's transaction reads accounts; no person comes back.
 */
export async function listUnreachedAudiences(actor: Actor, now = new Date()): Promise<UnreachedAudience[]> {
  if (!may(actor, "read-queue")) return [];
  return asSystem(async (tx) => {
    const groups = await tx.notice.groupBy({
      by: ["dealerId", "audienceRole"],
      where: { letters: { none: {} }, queuedAt: { gt: new Date(now.getTime() - SHOWN_DAYS * DAY_MS) } },
      _count: { _all: true },
      _max: { queuedAt: true },
    });
    const unreached: UnreachedAudience[] = [];
    for (const { dealerId, audienceRole, _count, _max } of groups) {
      const isHeard =
        (await tx.user.count({ where: { disabledAt: null, ...whoHears({ dealerId, audienceRole }, now) } })) > 0;
      if (isHeard) continue;
      const dealer =
        dealerId === null ? null : await tx.dealer.findUnique({ where: { id: dealerId }, select: { name: true } });
      unreached.push({
        dealerName: dealer?.name ?? null,
        role: audienceRole,
        messages: _count._all,
        lastQueuedAt: _max.queuedAt ?? now,
      });
    }
    return unreached.sort((a, b) => b.lastQueuedAt.getTime() - a.lastQueuedAt.getTime());
  });
}
