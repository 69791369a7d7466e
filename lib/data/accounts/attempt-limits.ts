import "server-only";
import { createHash } from "node:crypto";
import { RateLimiterPrisma, RateLimiterRes } from "rate-limiter-flexible";
import { getClient } from "../database";

/**
 * How often something may be tried. Engineering defaults, no authority: slow enough that passwords and serials cannot be
 * guessed or harvested, loose enough for a shared workshop address.
 */
const limits = {
  "sign-in-account-from-address": { points: 8, duration: 15 * 60 },
  // Looser than from one address, so that a stranger cannot lock a workshop out of its own account.
  "sign-in-account": { points: 40, duration: 15 * 60 },
  "sign-in-address": { points: 60, duration: 15 * 60 },
  "serial-look-up": { points: 120, duration: 60 * 60 },
  "readings-upload": { points: 60, duration: 60 * 60 },
} as const;

export type LimitedAct = keyof typeof limits;

export type AttemptAnswer = { readonly kind: "allowed" } | { readonly kind: "refused"; readonly waitMinutes: number };

/** Counts one attempt and says whether it may go on. The subject (account, address, user) is stored as a hash only. */
export async function countAttempt(act: LimitedAct, subject: string): Promise<AttemptAnswer> {
  const limiter = await limiterFor(act);
  try {
    await limiter.consume(keyOf(subject));
    return { kind: "allowed" };
  } catch (refusal) {
    if (!(refusal instanceof RateLimiterRes)) throw refusal;
    return { kind: "refused", waitMinutes: Math.max(1, Math.ceil(refusal.msBeforeNext / 60_000)) };
  }
}

/** A success clears the count, so that a person who mistyped twice today is not locked out tomorrow. */
export async function forgetAttempts(act: LimitedAct, subject: string): Promise<void> {
  await (await limiterFor(act)).delete(keyOf(subject));
}

async function limiterFor(act: LimitedAct): Promise<RateLimiterPrisma> {
  return new RateLimiterPrisma({
    ...limits[act],
    storeClient: await getClient(),
    tableName: "rateLimiterFlexible",
    keyPrefix: act,
    clearExpiredByTimeout: false,
  });
}

function keyOf(subject: string): string {
  return createHash("sha256").update(subject).digest("hex").slice(0, 32);
}
