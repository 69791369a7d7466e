import "server-only";
import { headers } from "next/headers";
import { notFound, redirect } from "next/navigation";
import { cache } from "react";
import { type Actor, mintActor, type Role, roles } from "@/lib/access/actor";
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
  });
});

/** The signed-in person, if their role is one of those named. A page for another role does not exist for them. */
export async function requireActor(...allowed: Role[]): Promise<Actor> {
  const actor = await currentActor();
  if (actor === null) redirect("/sign-in");
  if (!allowed.includes(actor.role)) notFound();
  return actor;
}

export function homeOf(role: Role): "/dealer" | "/bench" | "/reliability" {
  switch (role) {
    case "dealer":
      return "/dealer";
    case "service":
      return "/bench";
    case "manager":
      return "/reliability";
  }
}
