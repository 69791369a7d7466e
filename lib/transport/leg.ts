/** Which way a pack travels: every leg has a class of its own, because a pack is not on the way out what it was on the way in. */
export const legs = ["to-maker", "to-dealer", "unit-to-maker", "to-supplier"] as const;
export type Leg = (typeof legs)[number];
type InboundLeg = "to-maker" | "unit-to-maker";
export type OutgoingLeg = Exclude<Leg, InboundLeg>;

/** From a dealer to us, whichever pack it is: the dealer packs it, by the rules of its country. */
export function isInbound(leg: Leg): leg is InboundLeg {
  return leg === "to-maker" || leg === "unit-to-maker";
}

/** From which country to which a leg goes; null where nobody has set it. Where a supplier is stands in words alone. */
export function wayOf(
  leg: Leg,
  countries: { readonly dealer: string; readonly maker: string | null },
): { readonly fromCountry: string | null; readonly toCountry: string | null } {
  if (isInbound(leg)) return { fromCountry: countries.dealer, toCountry: countries.maker };
  return { fromCountry: countries.maker, toCountry: leg === "to-dealer" ? countries.dealer : null };
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

export interface FactsOfWays {
  /** The returned pack is in our hands, or went from there to a dealer. */
  readonly isHereOrGoesOut: boolean;
  /** The returned pack is in our hands, or with a supplier. */
  readonly isHereOrSampled: boolean;
  /** Another pack goes out in its place, whether the returned one ever comes or not. */
  readonly isReplaced: boolean;
  /** A pack sent in its place is at the dealer's, or on its way back from there. */
  readonly unitComesBack: boolean;
  /** Ways for which a class was declared before: what was written there stays to be read. */
  readonly declared: readonly string[];
}

/** The ways that can be of a return now, or were, in the order of `legs`. */
export function waysThatCanBe(facts: FactsOfWays): readonly Leg[] {
  const canBe: Readonly<Record<Leg, boolean>> = {
    "to-maker": true,
    "to-dealer": facts.isReplaced || facts.isHereOrGoesOut,
    "unit-to-maker": facts.unitComesBack,
    "to-supplier": facts.isHereOrSampled,
  };
  return legs.filter((leg) => canBe[leg] || facts.declared.includes(leg));
}
