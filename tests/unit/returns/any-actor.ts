import { isDealerRole, mintActor, type Role } from "@/lib/access/actor";

/** Somebody of a role; a dealer's user belongs to dealer "d1" unless told otherwise. */
export function actorOf(role: Role, dealerId = "d1") {
  return mintActor({ userId: `${role}-1`, name: role, role, dealerId: isDealerRole(role) ? dealerId : null });
}
