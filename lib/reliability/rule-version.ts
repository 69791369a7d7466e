/**
 * Names the rules by which exposure and events are counted. Raised whenever a rule changes a number, so that two files of
 * the same data date can be told apart.
 */
export const COUNTING_RULES_VERSION = "counting-16";

/** Rises when the same lives would get another forecast. */
export const FORECAST_RULES_VERSION = "forecast-9";

/** Rises when the same failures foretold would get another cost. */
export const COST_RULES_VERSION = "cost-3";

/** Rises when the same lives would give another early signal. */
export const SIGNAL_RULES_VERSION = "signals-6";
