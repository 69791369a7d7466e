import "server-only";
import { APIError } from "better-auth/api";
import { headers } from "next/headers";
import { roles } from "@/lib/access/actor";
import type { Credentials } from "@/lib/access/credentials.schema";
import { countAttempt, forgetAttempts } from "@/lib/data/accounts/attempt-limits";
import { endSessionsAsSystem } from "@/lib/data/accounts/users";
import { authentication } from "./authentication";
import { homeOf } from "./session";

export type SignInAnswer =
  | { readonly ok: true; readonly home: string }
  | {
      readonly ok: false;
      readonly reason: "wrong-credentials" | "too-many-attempts" | "account-disabled";
      readonly sentence: string;
    };

/**
 * Counts the attempt (for the account from this address, for the account, for the address), checks the password, and
 * opens a session on success.
 */
export async function signIn({ email, password }: Credentials): Promise<SignInAnswer> {
  const requestHeaders = await headers();
  // The last entry is what the nearest proxy saw; whatever stands before it, the client may have written itself.
  const address = requestHeaders.get("x-forwarded-for")?.split(",").at(-1)?.trim() ?? "unknown";
  const counted = [
    ["sign-in-account-from-address", `${email} ${address}`],
    ["sign-in-account", email],
    ["sign-in-address", address],
  ] as const;
  for (const [act, subject] of counted) {
    const answer = await countAttempt(act, subject);
    if (answer.kind === "refused") return tooManyAttempts(answer.waitMinutes);
  }
  const user = await checkPassword(email, password, requestHeaders);
  if (user === null) {
    return {
      ok: false,
      reason: "wrong-credentials",
      sentence: "This e-mail address and password do not go together. Check both and try again.",
    };
  }
  if (user.disabledAt) {
    await endSessionsAsSystem(user.id);
    return {
      ok: false,
      reason: "account-disabled",
      sentence: "This account was closed. Ask the maker's service desk.",
    };
  }
  await forgetAttempts("sign-in-account-from-address", `${email} ${address}`);
  await forgetAttempts("sign-in-account", email);
  const role = roles.find((known) => known === user.role);
  return { ok: true, home: role === undefined ? "/" : homeOf(role) };
}

function tooManyAttempts(waitMinutes: number): SignInAnswer {
  const wait = `${waitMinutes} ${waitMinutes === 1 ? "minute" : "minutes"}`;
  return { ok: false, reason: "too-many-attempts", sentence: `Too many attempts. Wait ${wait} and try again.` };
}

async function checkPassword(email: string, password: string, requestHeaders: Headers) {
  try {
    const { api } = await authentication();
    const { user } = await api.signInEmail({ body: { email, password }, headers: requestHeaders });
    return user;
  } catch (error) {
    if (error instanceof APIError && error.statusCode < 500) return null;
    throw error;
  }
}

/** Ends the session on the server, so that a copied cookie is worth nothing afterwards. */
export async function signOut(): Promise<void> {
  const { api } = await authentication();
  await api.signOut({ headers: await headers() });
}
