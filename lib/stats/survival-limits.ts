export interface Limits {
  readonly lower: number;
  readonly upper: number;
}

/**
 * Two-sided limits for a survival probability strictly between 0 and 1, on the log(-log S) scale, which keeps them
 * inside (0, 1) and behaves far better in small samples than S plus or minus a multiple of its standard error.
 *
 * Limits = S^exp(+-z * sqrt(V) / |ln S|) with V the Greenwood sum of d / (n (n - d)).
 * Parameters: `logSurvival` = ln S < 0; `greenwoodSum` = V > 0, both finite; `z` standard errors each way.
 * Source: Kalbfleisch & Prentice, The Statistical Analysis of Failure Time Data (1980), section 1.3; Borgan & Liestol,
 * Scand. J. Statist. 17 (1990) 35-41.
 */
export function logLogLimits(logSurvival: number, greenwoodSum: number, z: number): Limits {
  const spread = Math.exp((z * Math.sqrt(greenwoodSum)) / -logSurvival);
  return { lower: Math.exp(logSurvival * spread), upper: Math.exp(logSurvival / spread) };
}

/**
 * Lower limit for survival to an age up to which nobody failed, where the log-log formula has nothing to work with.
 *
 * Zero failures among at least n watched everywhere up to that age have a probability of at least (1 - confidence) / 2
 * only if the survival is at least ((1 - confidence) / 2)^(1 / n). Without delayed entry this is the Clopper-Pearson
 * limit for 0 of n (Biometrika 26 (1934) 404-413). With n = 0 somewhere on the way nothing is known: 0.
 */
export function lowerLimitWithoutFailures(fewestAtRisk: number, confidence: number): number {
  return fewestAtRisk > 0 ? ((1 - confidence) / 2) ** (1 / fewestAtRisk) : 0;
}

/**
 * Upper limit for survival past an age at which all n at risk failed: the log-log formula gives none at S = 0.
 *
 * If any failed before, the upper limit of the previous step still holds, since survival cannot rise with age. Else
 * all n of n failed at once and the Clopper-Pearson limit 1 - ((1 - confidence) / 2)^(1 / n) applies. Both err on the
 * safe side: they are too wide rather than too narrow.
 */
export function upperLimitAfterAllFailed(previousUpper: number | null, atRisk: number, confidence: number): number {
  return previousUpper ?? 1 - ((1 - confidence) / 2) ** (1 / atRisk);
}
