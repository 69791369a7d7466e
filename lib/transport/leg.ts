/** Which way a pack travels: every leg has a class of its own, because a pack is not on the way out what it was on the way in. */
export const legs = ["to-maker", "to-dealer", "unit-to-maker", "to-supplier"] as const;
export type Leg = (typeof legs)[number];
type InboundLeg = "to-maker" | "unit-to-maker";
export type OutgoingLeg = Exclude<Leg, InboundLeg>;

/** From a dealer to us, whichever pack it is: the dealer packs it, by the rules of its country. */
export function isInbound(leg: Leg): leg is InboundLeg {
  return leg === "to-maker" || leg === "unit-to-maker";
}

export const legWords: Readonly<Record<Leg, string>> = {
  "to-maker": "To us",
  "to-dealer": "To the dealer",
  "unit-to-maker": "The replacement, back to us",
  "to-supplier": "To a supplier, as a sample",
};

/** The leg an address asks for; the way to us where it names none. */
export function legAsked(asked: unknown): Leg {
  return legs.find((known) => known === asked) ?? "to-maker";
}
