import "server-only";
import { createHash, randomBytes, randomUUID } from "node:crypto";
import { INVITATION_DAYS } from "@/lib/access/account-rules";
import { DAY_MS } from "@/lib/warranty/clock-spans";
import { asSystem } from "../database";

/** Only the hash is kept: whoever reads the database opens no account with it. */
const hashOf = (token: string) => createHash("sha256").update(token, "utf8").digest("hex");

/** Until when a link made now can be used. */
export function invitationEnd(now: Date): Date {
  return new Date(now.getTime() + INVITATION_DAYS * DAY_MS);
}

/**
 * Makes a link with which somebody sets the own password, once, within some days; an earlier link of the same account is
 * worth nothing from then on. A system act: lib/auth calls it for whoever keeps the account.
 */
export async function makeInvitationAsSystem(userId: string, now: Date): Promise<string> {
  const token = randomBytes(24).toString("base64url");
  const identifier = `invitation ${userId}`;
  await asSystem(async (tx) => {
    await tx.verification.deleteMany({ where: { identifier } });
    await tx.verification.create({
      data: {
        id: randomUUID(),
        identifier,
        value: hashOf(token),
        expiresAt: invitationEnd(now),
      },
      select: { id: true },
    });
  });
  return token;
}

export interface OpenInvitation {
  readonly userId: string;
  readonly email: string;
  readonly name: string;
}

/** Whom a link is for; null where it is used, too old, or of an account that is closed. A system act: nobody is signed in. */
export async function readInvitationAsSystem(token: string, now: Date): Promise<OpenInvitation | null> {
  return asSystem(async (tx) => {
    const found = await tx.verification.findFirst({
      where: { value: hashOf(token), identifier: { startsWith: "invitation " }, expiresAt: { gt: now } },
      select: { identifier: true },
    });
    if (found === null) return null;
    const user = await tx.user.findFirst({
      where: { id: found.identifier.slice("invitation ".length), disabledAt: null },
      select: { id: true, email: true, name: true },
    });
    return user === null ? null : { userId: user.id, email: user.email, name: user.name };
  });
}

/** Uses the link up, and ends every session of the account. False where somebody was faster. */
export async function spendInvitationAsSystem(userId: string, token: string, now: Date): Promise<boolean> {
  return asSystem(async (tx) => {
    const { count } = await tx.verification.deleteMany({
      where: { identifier: `invitation ${userId}`, value: hashOf(token), expiresAt: { gt: now } },
    });
    if (count !== 1) return false;
    await tx.session.deleteMany({ where: { userId } });
    return true;
  });
}
