import "server-only";
import { APIError } from "better-auth/api";
import { headers } from "next/headers";
import { roles } from "@/lib/access/actor";
import type { Credentials } from "@/lib/access/credentials.schema";
import { countAttempt, forgetAttempts } from "@/lib/data/attempt-limits";
import { endSessionsAsSystem } from "@/lib/data/users";
import { authentication } from "./authentication";
import { homeOf } from "./session";

export type SignInAnswer =
  | { readonly ok: true; readonly home: string }
  | {
      readonly ok: false;
      readonly reason: "wrong-credentials" | "too-many-attempts" | "account-disabled";
      readonly sentence: string;
    };

/** Counts the attempt for the account and for the address, checks the password, and opens a session on success. */
export async function signIn({ email, password }: Credentials): Promise<SignInAnswer> {
  const requestHeaders = await headers();
  const address = requestHeaders.get("x-forwarded-for")?.split(",")[0]?.trim() ?? "unknown";
  for (const attempt of [countAttempt("sign-in-account", email), countAttempt("sign-in-address", address)]) {
    const answer = await attempt;
    if (answer.kind === "refused") {
      return {
        ok: false,
        reason: "too-many-attempts",
        sentence: `Too many attempts. Wait ${answer.waitMinutes} ${answer.waitMinutes === 1 ? "minute" : "minutes"} and try again.`,
      };
    }
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
  await forgetAttempts("sign-in-account", email);
  const role = roles.find((known) => known === user.role);
  return { ok: true, home: role === undefined ? "/" : homeOf(role) };
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
