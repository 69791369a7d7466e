import "server-only";
import type { Role } from "@/lib/access/actor";
import { closeDatabase } from "@/lib/data/database";
import { authentication, MIN_PASSWORD_CHARACTERS } from "./authentication";

export interface NewAccount {
  readonly email: string;
  readonly name: string;
  readonly role: Role;
  readonly dealerId: string | null;
  readonly password: string;
  /** The database refuses demo accounts outside a demo database. */
  readonly isDemo: boolean;
}

/** Opens an account with a password. A system act: set-up, seed and the add-user command call it, no request does. */
export async function openAccountAsSystem(account: NewAccount): Promise<string> {
  if (account.password.length < MIN_PASSWORD_CHARACTERS) {
    throw new RangeError(`password: at least ${MIN_PASSWORD_CHARACTERS} characters`);
  }
  const context = await (await authentication()).$context;
  const { id } = await context.internalAdapter.createUser(
    {
      email: account.email.toLowerCase(),
      name: account.name,
      emailVerified: true,
      role: account.role,
      dealerId: account.dealerId,
      isDemo: account.isDemo,
    },
    { method: "admin" },
  );
  await context.internalAdapter.linkAccount({
    userId: id,
    providerId: "credential",
    accountId: id,
    password: await context.password.hash(account.password),
  });
  return id;
}

/** Gives the database back at the end of a command; a server never calls it. */
export function closeAccounts(): Promise<void> {
  return closeDatabase();
}
