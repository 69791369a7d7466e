export const roles = [
  "dealer",
  "dealer-admin",
  "technician",
  "service-lead",
  "manager",
  "safety-officer",
  "finance",
  "administrator",
] as const;
export type Role = (typeof roles)[number];

/** The two roles of a dealer's own people; all others belong to the maker and have no dealer. */
const dealerRoles = ["dealer", "dealer-admin"] as const satisfies readonly Role[];

export const roleWords: Readonly<Record<Role, string>> = {
  dealer: "Dealer",
  "dealer-admin": "Dealer in charge of accounts",
  technician: "Technician",
  "service-lead": "Service lead",
  manager: "Manager",
  "safety-officer": "Safety officer",
  finance: "Finance",
  administrator: "Administrator",
};

declare const actorBrand: unique symbol;

interface ActorFacts {
  readonly userId: string;
  readonly name: string;
  readonly role: Role;
  /** The dealer a dealer's user belongs to; null for the maker's own people. */
  readonly dealerId: string | null;
  /** Named as deputy of the safety officer, today. */
  readonly isSafetyDeputy?: boolean;
  /** IANA name, for showing times; the reader's browser decides where it is missing. */
  readonly timeZone?: string;
}

/** Somebody who signed in. The brand keeps a page from inventing one out of request data. */
export type Actor = ActorFacts & { readonly [actorBrand]: true };

/**
 * Makes an actor. Only lib/auth, which read the session, and tests may call this: whoever can mint an actor can be
 * anyone. Throws RangeError for a dealer's user without a dealer id, or anyone else with one, because the wall between
 * dealers rests on that id, and for a dealer's user named as deputy of the maker's safety officer.
 */
export function mintActor(facts: ActorFacts): Actor {
  if (!isActor(facts)) throw new RangeError("dealerId: a dealer's user has one, and nobody else does");
  return facts;
}

export function isDealerRole(role: Role): boolean {
  return dealerRoles.some((known) => known === role);
}

function isActor(facts: ActorFacts): facts is Actor {
  const hasDealer = facts.dealerId !== null && facts.dealerId !== "";
  return isDealerRole(facts.role) === hasDealer && !(hasDealer && facts.isSafetyDeputy === true);
}

/**
 * The program itself, which makes the moves that belong to time and no other: nobody signs in as it, no act is given to
 * it, and the history names it.
 */
export const program = {
  userId: "program",
  name: "The program, by the calendar",
  role: "program",
  dealerId: null,
  isSafetyDeputy: false,
} as const;

/** Whoever makes a move: a person who signed in, or the program at its time. */
export type Mover = Actor | typeof program;

export function isProgram(mover: Mover): mover is typeof program {
  return mover.role === "program";
}
