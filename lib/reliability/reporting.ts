/** Which share of what was told is known so many days after; from the longest lag on all is. */
export interface Reporting {
  readonly shareKnown: (lagDays: number) => number;
  readonly longestLagDays: number;
  /** Events it was taken from; missing where all is known at once. */
  readonly returns?: number;
  /** How wrong the share may be; missing where nothing is known of that. */
  readonly doubt?: DelayDoubt;
  /** Of the packs of one place (`placeOf`), where they are confirmed at speeds of their own; missing where one delay stands for all. */
  readonly ofPlace?: (place: string) => Reporting;
}

/** Shares known after so many days between which the true one lies, so far as the delays seen can tell (95 %, day by day). */
export interface DelayDoubt {
  readonly mostKnown: (lagDays: number) => number;
  readonly leastKnown: (lagDays: number) => number;
}

/** The delay that packs of a place are weighed by. */
export function reportingAt(reporting: Reporting, place: string): Reporting {
  return reporting.ofPlace?.(place) ?? reporting;
}

/** That what is not known yet is allowed for, and whether by so few delays that their own doubt matters. */
export interface Allowance {
  /** Their number where it is small; else null. */
  readonly fewDelays: number | null;
}

/**
 * The limits of what is corrected take the delay as known: with fewer delays behind it that has to be said beside them. Engineering
 * default, no authority.
 */
const FEWEST_DELAYS_SURE = 100;

/** Null where nothing is allowed for. */
export function allowanceOf({ longestLagDays, returns }: Reporting): Allowance | null {
  if (longestLagDays === 0) return null;
  return { fewDelays: returns !== undefined && returns < FEWEST_DELAYS_SURE ? returns : null };
}

/** The end of a bracket with limits: nothing where many delays are known. */
export function fewDelaysClause({ fewDelays }: Allowance): string {
  return fewDelays === null
    ? ""
    : `, by only ${fewDelays} delays, whose own doubt is not in these limits: they can be too short`;
}
