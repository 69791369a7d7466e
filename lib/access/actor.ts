export const roles = ["dealer", "service", "manager"] as const;
export type Role = (typeof roles)[number];

declare const actorBrand: unique symbol;

interface ActorFacts {
  readonly userId: string;
  readonly name: string;
  readonly role: Role;
  /** The dealer a dealer user belongs to; null for the maker's own people. */
  readonly dealerId: string | null;
  /** IANA name, for showing times; the reader's browser decides where it is missing. */
  readonly timeZone?: string;
}

/** Somebody who signed in. The brand keeps a page from inventing one out of request data. */
export type Actor = ActorFacts & { readonly [actorBrand]: true };

/**
 * Makes an actor. Only lib/auth, which read the session, and tests may call this: whoever can mint an actor can be
 * anyone. Throws RangeError for a dealer without a dealer id, or anyone else with one, because the wall between
 * dealers rests on that id.
 */
export function mintActor(facts: ActorFacts): Actor {
  if (!isActor(facts)) throw new RangeError("dealerId: a dealer user has one, and nobody else does");
  return facts;
}

function isActor(facts: ActorFacts): facts is Actor {
  return (facts.role === "dealer") === (facts.dealerId !== null && facts.dealerId !== "");
}
