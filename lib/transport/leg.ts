/** Which way a pack travels: every leg has a class of its own, because a pack is not on the way out what it was on the way in. */
export const legs = ["to-maker", "to-dealer", "to-supplier"] as const;
export type Leg = (typeof legs)[number];
export type OutgoingLeg = Exclude<Leg, "to-maker">;

export const legWords: Readonly<Record<Leg, string>> = {
  "to-maker": "To us",
  "to-dealer": "To the dealer",
  "to-supplier": "To a supplier, as a sample",
};

/** The leg an address asks for; the way to us where it names none. */
export function legAsked(asked: unknown): Leg {
  return legs.find((known) => known === asked) ?? "to-maker";
}
