/** Attempts before a letter is given up and shown to staff. Engineering default, no authority: about a day and a half. */
export const MAX_ATTEMPTS = 10;
const FIRST_WAIT_MINUTES = 1;
const LONGEST_WAIT_MINUTES = 8 * 60;
/** How long a letter in sending is left alone before another try: longer than any sending lasts. */
const SENDING_LEASE_MINUTES = 5;

export type AfterFailure = { readonly state: "waiting"; readonly nextAttemptAt: Date } | { readonly state: "dead" };

/** When a letter that failed so many times is tried again: 1, 3, 9, 27, … minutes, 8 hours at most; then it is given up. */
export function afterFailure(attempts: number, now: Date): AfterFailure {
  if (!Number.isInteger(attempts) || attempts < 1) throw new RangeError(`attempts: 1 at least, not ${attempts}`);
  if (attempts >= MAX_ATTEMPTS) return { state: "dead" };
  const waitMinutes = Math.min(FIRST_WAIT_MINUTES * 3 ** (attempts - 1), LONGEST_WAIT_MINUTES);
  return { state: "waiting", nextAttemptAt: new Date(now.getTime() + waitMinutes * 60_000) };
}

/** While it is being sent nobody else takes it; if the sender dies, it comes up again after the lease. */
export function leaseUntil(now: Date): Date {
  return new Date(now.getTime() + SENDING_LEASE_MINUTES * 60_000);
}
