/** Rises when the same facts under the same policy may get another answer, so that a replay can tell why. */
export const COVER_RULES_VERSION = "7";

/** What counting rules of the past did otherwise: an answer of theirs is given again as it was given then. */
export interface CountingRules {
  /** From 7 on, beyond the gap, a proof that was read outranks what was registered or said. Up to 6 the two contradicted each other. */
  readonly aProofOutranks: boolean;
}

/** Rules up to 5 counted otherwise in more than is known here: their answers are given again by those of 6, as near as can be. */
const byVersion: Readonly<Record<string, CountingRules>> = {
  "6": { aProofOutranks: false },
  [COVER_RULES_VERSION]: { aProofOutranks: true },
};

export const countingRulesInForce: CountingRules = { aProofOutranks: true };

/** The counting rules of an answer's day. `isExact` is false where they are only the oldest that are still known. */
export function countingRulesOf(version: string | null): { readonly rules: CountingRules; readonly isExact: boolean } {
  const known = version === null ? undefined : byVersion[version];
  return known === undefined ? { rules: { aProofOutranks: false }, isExact: false } : { rules: known, isExact: true };
}
