import "server-only";
import { randomBytes } from "node:crypto";
import type { NewAccountWish } from "@/lib/access/account-rules";
import type { Actor } from "@/lib/access/actor";
import {
  invitationEnd,
  makeInvitationAsSystem,
  readInvitationAsSystem,
  spendInvitationAsSystem,
} from "@/lib/data/accounts/invitations";
import { type AccountAnswer, maySendInvitation, whereToOpen } from "@/lib/data/accounts/keep-accounts";
import { readEnvironment } from "@/lib/data/env";
import { sendInvitation } from "@/lib/data/notices/notice-post";
import { breaksUnique } from "@/lib/data/unique-violation";
import { openAccountAsSystem } from "./accounts";
import { authentication, MIN_PASSWORD_CHARACTERS } from "./authentication";

export type InvitationAnswer =
  | {
      readonly ok: true;
      readonly link: string;
      /** The address a letter with the link went to; null where no mail is set up or none was taken: hand it over then. */
      readonly mailedTo: string | null;
    }
  | Extract<AccountAnswer, { ok: false }>
  | { readonly ok: false; readonly reason: "email-taken"; readonly sentence: string };

const emailTaken = {
  ok: false,
  reason: "email-taken",
  sentence: "There is an account with this e-mail address already.",
} as const;

/**
 * Opens an account and gives the link with which its person sets the password. Whoever opens it hands the link over and
 * never learns the password: until then the account has one that nobody knows.
 */
export async function inviteAccount(actor: Actor, wish: NewAccountWish, now = new Date()): Promise<InvitationAnswer> {
  const where = await whereToOpen(actor, wish);
  if (!where.ok) return where;
  const { email, name, role } = wish;
  const context = await (await authentication()).$context;
  if ((await context.internalAdapter.findUserByEmail(email)) !== null) return emailTaken;
  const password = randomBytes(32).toString("base64url");
  try {
    const userId = await openAccountAsSystem({ email, name, role, dealerId: where.dealerId, password, isDemo: false });
    return invitation(userId, email, now);
  } catch (error) {
    if (breaksUnique(error, "User_email_key")) return emailTaken;
    throw error;
  }
}

/** A new link for an account that is open: the first was lost, or the password forgotten. */
export async function inviteAgain(actor: Actor, userId: string, now = new Date()): Promise<InvitationAnswer> {
  const may = await maySendInvitation(actor, userId);
  return may.ok ? invitation(userId, may.email, now) : may;
}

async function invitation(userId: string, email: string, now: Date): Promise<InvitationAnswer> {
  const link = linkOf(await makeInvitationAsSystem(userId, now));
  const isMailed = await sendInvitation(email, link, invitationEnd(now));
  return { ok: true, link, mailedTo: isMailed ? email : null };
}

function linkOf(token: string): string {
  return `${readEnvironment().appUrl}/invitation/${token}`;
}

export type PasswordAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly field: "password" | "again"; readonly sentence: string };

/** Sets the password behind a link, once. Nobody is signed in: the link is the proof. */
export async function setInvitedPassword(
  token: string,
  password: string,
  again: string,
  now = new Date(),
): Promise<PasswordAnswer> {
  if (password.length < MIN_PASSWORD_CHARACTERS || password.length > 128) {
    const sentence = `At least ${MIN_PASSWORD_CHARACTERS} characters, at most 128: a few words in a row are easy to keep.`;
    return { ok: false, field: "password", sentence };
  }
  if (password !== again) return { ok: false, field: "again", sentence: "The two do not match. Type it once more." };
  const invited = await readInvitationAsSystem(token, now);
  const isOver = {
    ok: false,
    field: "password",
    sentence: "This link is used or too old. Ask for a new one.",
  } as const;
  if (invited === null) return isOver;
  const context = await (await authentication()).$context;
  const hash = await context.password.hash(password);
  if (!(await spendInvitationAsSystem(invited.userId, token, now))) return isOver;
  await context.internalAdapter.updatePassword(invited.userId, hash);
  return { ok: true };
}

/** Whose link this is, for the page that asks for the password. Its 192 bits are not guessed, so attempts are not counted. */
export function readInvitation(token: string, now = new Date()) {
  return readInvitationAsSystem(token, now);
}
