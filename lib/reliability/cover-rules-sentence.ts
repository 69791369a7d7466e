/** Stands on every page whose numbers end with the cover, where the house has no rules of cover yet; else empty. */
export function coverRulesSentence(hasRules: boolean): string {
  return hasRules
    ? ""
    : "No guarantee rules are stored yet, so no pack has an end of cover: failures at any age are counted, and what is foretold ends with no cover.";
}
