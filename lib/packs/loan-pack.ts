/** What is known of a pack somebody wants to lend. */
export interface LoanPackFacts {
  readonly isReturnedPack: boolean;
  readonly wasReplaced: boolean;
  readonly wasSold: boolean;
  readonly cameAsReplacement: boolean;
  readonly hasOpenReturn: boolean;
  readonly isSetApart: boolean;
  readonly isOnHold: boolean;
  readonly isLent: boolean;
  readonly isKept: boolean;
  /** Dispatched to somebody else than who lends it. */
  readonly isElsewhere: boolean;
  /** Title of an open issue that stops it or calls it back; null where there is none. */
  readonly stop: string | null;
}

/** Why a pack may not be lent, in words for the field; null where it may. A loan goes to a customer like any pack. */
export function whyPackMayNotBeLent(pack: LoanPackFacts | null): string | null {
  if (pack === null) return "No pack with this serial is known. Compare it with the label once more.";
  if (pack.isReturnedPack) return "This is the returned pack itself.";
  if (pack.wasReplaced) return "This pack was replaced: something was wrong with it.";
  if (pack.wasSold || pack.cameAsReplacement) return "This pack is in service at a customer.";
  if (pack.hasOpenReturn) return "A return of this pack is open.";
  if (pack.isSetApart) return "This pack is set apart for safety.";
  if (pack.isOnHold) return "A legal hold lies on this pack.";
  if (pack.isLent) return "This pack is lent out already.";
  if (pack.isKept) return "This pack is kept as a replacement.";
  if (pack.isElsewhere) return "This pack is not in your stock.";
  return pack.stop === null ? null : `This pack must not go out: ${pack.stop}.`;
}
