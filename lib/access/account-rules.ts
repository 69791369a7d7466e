import { z } from "zod";
import { type Actor, isDealerRole, type Role, roles } from "./actor";
import { may } from "./may";

/** Engineering default: long enough for a holiday, short enough that a forgotten letter opens nothing. */
export const INVITATION_DAYS = 7;

/**
 * The roles somebody may give, and whose accounts they may change. A manager gives neither the manager's role nor the
 * administrator's: two managers approve what neither may alone, so none may make the other (separation of duties, common
 * practice, no source).
 */
export function rolesToGive(actor: Pick<Actor, "role">): readonly Role[] {
  if (may(actor, "manage-all-accounts")) return roles;
  if (may(actor, "manage-staff-accounts")) return ["technician", "service-lead", "safety-officer", "finance"];
  return may(actor, "manage-own-dealer-accounts") ? ["dealer", "dealer-admin"] : [];
}

export interface AccountFacts {
  readonly userId: string;
  readonly role: Role;
  readonly isClosed: boolean;
}

export type AccountRefusal =
  | "not-theirs"
  | "own-account"
  | "last-administrator"
  | "last-safety-officer"
  | "role-not-theirs"
  | "other-kind"
  | "no-deputy";

export const accountSentences: Readonly<Record<AccountRefusal, string>> = {
  "not-theirs": "This account is not yours to change.",
  "own-account": "Nobody changes the own role or closes the own account: ask another who keeps accounts.",
  "last-administrator": "This is the last administrator. Make another one first.",
  "last-safety-officer":
    "This is the last safety officer: nobody could keep an incident or lower a flag. Make another one first.",
  "role-not-theirs": "You cannot give this role.",
  "no-deputy": "Deputies of the safety officer are named by the administrator, among service leads and managers.",
  "other-kind": "A dealer's account stays one, and so does an account of the house. Close it and open another.",
};

export type AccountChange =
  | { readonly kind: "role"; readonly role: Role }
  | { readonly kind: "close" | "open-again" | "deputy" };

/** Who can stand in for the safety officer: whoever reads incidents anyway. */
export function canBeDeputy(role: Role): boolean {
  return role !== "safety-officer" && may({ role }, "read-incidents");
}

/** Why an account may not be changed so; null where it may. `others` counts the open ones of the same role besides this. */
export function whyNotChanged(
  actor: Pick<Actor, "userId" | "role">,
  account: AccountFacts,
  change: AccountChange,
  others: number,
): AccountRefusal | null {
  const theirs = rolesToGive(actor);
  if (!theirs.includes(account.role)) return "not-theirs";
  if (change.kind === "deputy" && !(may(actor, "manage-all-accounts") && canBeDeputy(account.role))) return "no-deputy";
  const isKept = change.kind === "open-again" || (change.kind === "role" && change.role === account.role);
  if (!isKept && account.userId === actor.userId) return "own-account";
  if (change.kind === "role" && !theirs.includes(change.role)) return "role-not-theirs";
  if (change.kind === "role" && isDealerRole(change.role) !== isDealerRole(account.role)) return "other-kind";
  if (isKept || change.kind === "deputy" || account.isClosed || others > 0) return null;
  if (account.role === "administrator") return "last-administrator";
  return account.role === "safety-officer" ? "last-safety-officer" : null;
}

const name = z.string().trim().min(2, "Give the full name.").max(120, "At most 120 characters.");
const role = z.enum(roles, "Choose a role.");

export const newAccountSchema = z.object({
  email: z
    .string()
    .trim()
    .toLowerCase()
    .pipe(z.email("Give the whole e-mail address, for example name@workshop.example.").max(200)),
  name,
  role,
  /** Code of the dealer; for the roles of a dealer. */
  dealerCode: z.string().trim().max(20).default(""),
});
export type NewAccountWish = z.output<typeof newAccountSchema>;

export const accountEditSchema = z.object({ userId: z.string().min(1).max(64), name, role });
export const deputySchema = z.object({
  userId: z.string().min(1).max(64),
  /** Last day; empty to end it. */
  until: z.union([z.literal("").transform(() => null), z.iso.date("Give the last day.")]),
});
export const accountKeySchema = z.object({ userId: z.string().min(1).max(64) });
