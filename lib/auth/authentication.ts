import "server-only";
import { betterAuth } from "better-auth";
import { prismaAdapter } from "better-auth/adapters/prisma";
import { nextCookies } from "better-auth/next-js";
import { authSecret } from "@/lib/data/accounts/auth-secret";
import { getClient } from "@/lib/data/database";
import { readEnvironment } from "@/lib/data/env";

/** NIST SP 800-63B-4, section 3.1.1: at least 15 characters where the password is the only factor. */
export const MIN_PASSWORD_CHARACTERS = 15;
/** Engineering default: a working week for a phone on a workshop bench; used sessions are prolonged once a day. */
const SESSION_SECONDS = 7 * 24 * 60 * 60;
const PROLONG_AFTER_SECONDS = 24 * 60 * 60;

/**
 * The sign-in library on our database: scrypt passwords, opaque random session tokens, sessions kept on the server.
 * Its HTTP routes are not mounted: there is no sign-up, and the only ways in are the functions of lib/auth.
 */
async function buildAuthentication() {
  return betterAuth({
    appName: "Returns Bench",
    baseURL: readEnvironment().appUrl,
    secret: authSecret(),
    database: prismaAdapter(await getClient(), { provider: "postgresql" }),
    emailAndPassword: { enabled: true, disableSignUp: true, minPasswordLength: MIN_PASSWORD_CHARACTERS },
    session: { expiresIn: SESSION_SECONDS, updateAge: PROLONG_AFTER_SECONDS },
    user: {
      additionalFields: {
        role: { type: "string", required: true, input: false },
        dealerId: { type: "string", required: false, input: false },
        isDemo: { type: "boolean", required: false, input: false },
        disabledAt: { type: "date", required: false, input: false },
        safetyDeputyUntil: { type: "date", required: false, input: false },
      },
    },
    advanced: { cookiePrefix: "returns-bench" },
    telemetry: { enabled: false },
    plugins: [nextCookies()],
  });
}

type Authentication = Awaited<ReturnType<typeof buildAuthentication>>;

let built: Promise<Authentication> | undefined;

export function authentication(): Promise<Authentication> {
  built ??= buildAuthentication();
  return built;
}

/** For tests that open one database after another in one process. */
export function forgetAuthentication(): void {
  built = undefined;
}
