/** Rises when the same facts under the same policy may get another answer, so that a replay can tell why. */
export const COVER_RULES_VERSION = "7";

/** What counting rules of the past did otherwise: an answer of theirs is given again as it was given then. */
export interface CountingRules {
  /** From 7 on, beyond the gap, a proof that was read outranks what was registered or said. Up to 6 the two contradicted each other. */
  readonly aProofOutranks: boolean;
}

export const countingRulesInForce: CountingRules = { aProofOutranks: true };

/** Rules up to 5 counted otherwise in more than is known here: their answers are given again by these, as near as can be. */
const oldestKnown: CountingRules = { aProofOutranks: false };

const byVersion: Readonly<Record<string, CountingRules>> = {
  "6": oldestKnown,
  [COVER_RULES_VERSION]: countingRulesInForce,
};

/** The counting rules of an answer's day. `isExact` is false where they are only the oldest that are still known. */
export function countingRulesOf(version: string | null): { readonly rules: CountingRules; readonly isExact: boolean } {
  const known = version === null ? undefined : byVersion[version];
  return known === undefined ? { rules: oldestKnown, isExact: false } : { rules: known, isExact: true };
}
