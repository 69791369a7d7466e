import "server-only";
import { canBeDeputy, rolesToGive } from "@/lib/access/account-rules";
import { type Actor, roles } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { asSystem } from "../database";
import { readEnvironment } from "../env";

export interface DemoSignIn {
  readonly email: string;
  readonly name: string;
  readonly role: string;
  /** "Workshop name, town" for a dealer, "the maker" for others. */
  readonly who: string;
}

/** The accounts shown on the sign-in page of a demo; none outside demo mode. A system act: nobody is signed in yet. */
export async function listDemoSignInsAsSystem(): Promise<DemoSignIn[]> {
  if (!readEnvironment().demo) return [];
  const users = await asSystem((tx) =>
    tx.user.findMany({
      where: { isDemo: true },
      select: { email: true, name: true, role: true, dealer: { select: { name: true, town: true } } },
      orderBy: [{ role: "asc" }, { email: "asc" }],
    }),
  );
  return users.map(({ email, name, role, dealer }) => ({
    email,
    name,
    role,
    who: dealer === null ? "the maker" : `${dealer.name}, ${dealer.town}`,
  }));
}

/** Ends every session of an account. A system act: sign-in calls it for an account that was closed. */
export async function endSessionsAsSystem(userId: string): Promise<void> {
  await asSystem((tx) => tx.session.deleteMany({ where: { userId } }));
}

/** The dealer behind a code, for opening its first account. A system act: the add-user command calls it. */
export async function findDealerIdAsSystem(code: string): Promise<string | null> {
  const dealer = await asSystem((tx) => tx.dealer.findUnique({ where: { code }, select: { id: true } }));
  return dealer?.id ?? null;
}

export interface AccountRow {
  readonly id: string;
  readonly email: string;
  readonly name: string;
  readonly role: string;
  /** "Workshop name, town" for a dealer's user, "the maker" for others. */
  readonly who: string;
  readonly closedAt: Date | null;
  /** Until when the person stands in for the safety officer. */
  readonly deputyUntil: Date | null;
  /** Whether this person may be named so by whoever asks. */
  readonly mayBeDeputy: boolean;
  /** Whether this person may change it at all. */
  readonly isTheirs: boolean;
}

/**
 * The accounts this person keeps: all of them, those of the maker's own people, or those of the own dealer. Null where
 * there are none to keep. As the system, because no person's transaction reads accounts; the WHERE is the wall here.
 */
export async function listAccounts(actor: Actor): Promise<AccountRow[] | null> {
  const where = whichAccounts(actor);
  if (where === null) return null;
  const users = await asSystem((tx) =>
    tx.user.findMany({
      where,
      select: {
        id: true,
        email: true,
        name: true,
        role: true,
        disabledAt: true,
        safetyDeputyUntil: true,
        dealer: { select: { name: true, town: true } },
      },
      orderBy: [{ role: "asc" }, { name: "asc" }],
    }),
  );
  const theirs: readonly string[] = rolesToGive(actor);
  return users.map(({ dealer, disabledAt, safetyDeputyUntil, ...user }) => ({
    ...user,
    isTheirs: theirs.includes(user.role),
    who: dealer === null ? "the maker" : `${dealer.name}, ${dealer.town}`,
    closedAt: disabledAt,
    deputyUntil: safetyDeputyUntil,
    mayBeDeputy: may(actor, "manage-all-accounts") && roles.some((role) => role === user.role && canBeDeputy(role)),
  }));
}

/** The wall between what one keeps and what another does; every query here stands behind it. */
export function whichAccounts(actor: Actor): { dealerId?: string | null } | null {
  if (may(actor, "manage-all-accounts")) return {};
  if (may(actor, "manage-staff-accounts")) return { dealerId: null };
  return may(actor, "manage-own-dealer-accounts") && actor.dealerId !== null ? { dealerId: actor.dealerId } : null;
}
