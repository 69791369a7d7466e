/** A known issue that keeps a pack from going out, by its title. */
export interface StopOnPack {
  readonly title: string;
  /** Set where one lot is stopped, not the whole revision. */
  readonly lotCode: string | null;
}

/** What is known of a pack somebody takes from stock for a customer, to keep or to ride meanwhile. */
export interface StockPackFacts {
  readonly isReturnedPack: boolean;
  readonly wasSold: boolean;
  /** It came to a customer as a replacement itself. */
  readonly cameAsReplacement: boolean;
  readonly wasReplaced: boolean;
  readonly hasOpenReturn: boolean;
  readonly isSetApart: boolean;
  readonly isOnHold: boolean;
  readonly isLent: boolean;
  /** It was sent out, or is missing, and has not come back to the shelf. */
  readonly isAway: boolean;
  /** Open stops and field actions its revision or one of its lots lies under. */
  readonly stops: readonly StopOnPack[];
}

export type StockRefusal =
  | "is-returned-pack"
  | "was-replaced"
  | "is-in-service"
  | "is-in-a-return"
  | "is-set-apart"
  | "is-on-hold"
  | "is-lent"
  | "is-away"
  | "is-stopped";

const sentences: Readonly<Record<Exclude<StockRefusal, "is-stopped">, string>> = {
  "is-returned-pack": "This is the returned pack itself. Take one from stock.",
  "was-replaced": "This pack was replaced itself: something was wrong with it.",
  "is-in-service": "This pack is in service: it was sold or given out before.",
  "is-in-a-return": "A return of this pack is open.",
  "is-set-apart": "This pack is set apart for safety.",
  "is-on-hold": "A legal hold lies on this pack.",
  "is-lent": "This pack is lent out.",
  "is-away": "This pack was sent out or is missing, and nobody has put it back in the store.",
};

/** Why a pack goes to no customer at all, as replacement or as a loan, in words for the field; null where nothing keeps it. */
export function whyItStaysInStock(
  pack: StockPackFacts,
): { readonly why: StockRefusal; readonly sentence: string } | null {
  const met: readonly (readonly [boolean, keyof typeof sentences])[] = [
    [pack.isReturnedPack, "is-returned-pack"],
    [pack.wasReplaced, "was-replaced"],
    [pack.wasSold || pack.cameAsReplacement, "is-in-service"],
    [pack.hasOpenReturn, "is-in-a-return"],
    [pack.isSetApart, "is-set-apart"],
    [pack.isOnHold, "is-on-hold"],
    [pack.isLent, "is-lent"],
    [pack.isAway, "is-away"],
  ];
  const [, why] = met.find(([keeps]) => keeps) ?? [];
  if (why !== undefined) return { why, sentence: sentences[why] };
  const [stop] = pack.stops;
  return stop === undefined ? null : { why: "is-stopped", sentence: sayStop(stop) };
}

export function sayStop({ title, lotCode }: StopOnPack): string {
  return lotCode === null
    ? `This pack must not go out: ${title}.`
    : `This pack holds lot ${lotCode}, which is stopped: ${title}.`;
}
