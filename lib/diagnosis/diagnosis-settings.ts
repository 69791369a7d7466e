/** Version of the rules: stored beside every suggestion, raised whenever a rule or a default changes. */
export const ruleVersion = "2026-11-a";
