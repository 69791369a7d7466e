import "server-only";
import { headers } from "next/headers";
import { notFound, redirect } from "next/navigation";
import { cache } from "react";
import { type Actor, mintActor, type Role, roles } from "@/lib/access/actor";
import { type Act, may } from "@/lib/access/may";
import { authentication } from "./authentication";

/** Who is signed in, read once a request from the server-side session; null for nobody or a disabled account. */
export const currentActor = cache(async (): Promise<Actor | null> => {
  const session = await (await authentication()).api.getSession({ headers: await headers() });
  if (session === null || session.user.disabledAt) return null;
  const role = roles.find((known) => known === session.user.role);
  if (role === undefined) throw new Error(`User ${session.user.id} has an unknown role`);
  return mintActor({
    userId: session.user.id,
    name: session.user.name,
    role,
    dealerId: session.user.dealerId ?? null,
    isSafetyDeputy: isStillDeputy(session.user.safetyDeputyUntil),
  });
});

/** A named deputy stays one until the instant in the account, not a request longer. */
function isStillDeputy(until: Date | null | undefined): boolean {
  return until !== null && until !== undefined && until > new Date();
}

/** The signed-in person, if they may do one of the acts named. A page nobody of their role works on does not exist for them. */
export async function requireActor(...acts: [Act, ...Act[]]): Promise<Actor> {
  const actor = await currentActor();
  if (actor === null) redirect("/sign-in");
  if (!acts.some((act) => may(actor, act))) notFound();
  return actor;
}

export function homeOf(role: Role): "/dealer" | "/bench" | "/reliability" | "/money" | "/accounts" {
  switch (role) {
    case "dealer":
    case "dealer-admin":
      return "/dealer";
    case "technician":
    case "service-lead":
    case "safety-officer":
      return "/bench";
    case "manager":
      return "/reliability";
    case "finance":
      return "/money";
    case "administrator":
      return "/accounts";
  }
}
