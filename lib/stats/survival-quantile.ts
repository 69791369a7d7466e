import type { KaplanMeierCurve, KaplanMeierStep } from "./kaplan-meier";

export interface SurvivalQuantile {
  /** Null where the curve does not come down that far: more than the share asked is still running at its end. */
  readonly age: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

/** How near to the level a flat piece of the curve counts as lying on it: rounding of the product. */
const ON_THE_LEVEL = 1e-12;

/**
 * Answers: at which age has the share `failed` failed (0.5 for the median), and between which limits?
 *
 * First age at which survival is at most 1 - failed; where the curve lies flat on exactly that level, the middle of the flat
 * piece. Limits: the ages at which the lower and the upper limit of survival come down to the level (Brookmeyer & Crowley),
 * so they carry the scale of the curve's limits, here log-log: the lung cancer trial gives 284 to 361 days by it and 285 to
 * 363 on the log scale. Null where a limit never comes down. Domain: 0 < failed < 1, else a RangeError.
 * Source: Brookmeyer & Crowley, Biometrics 38 (1982) 29-41; flat pieces: R survival, quantile.survfit.
 */
export function survivalQuantile({ steps }: Pick<KaplanMeierCurve, "steps">, failed: number): SurvivalQuantile {
  if (!(failed > 0 && failed < 1)) throw new RangeError(`failed must lie between 0 and 1, got ${failed}`);
  const reached = (read: (step: KaplanMeierStep) => number) => firstAtMost(steps, read, 1 - failed);
  return {
    age: reached((step) => step.survival),
    lower: reached((step) => step.lower),
    upper: reached((step) => step.upper),
  };
}

function firstAtMost(
  steps: readonly KaplanMeierStep[],
  read: (step: KaplanMeierStep) => number,
  level: number,
): number | null {
  const first = steps.findIndex((step) => read(step) <= level + ON_THE_LEVEL);
  const step = steps[first];
  if (step === undefined) return null;
  const next = steps[first + 1];
  const isFlatOnLevel = Math.abs(read(step) - level) <= ON_THE_LEVEL && next !== undefined;
  return isFlatOnLevel ? (step.age + next.age) / 2 : step.age;
}
