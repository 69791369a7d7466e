import { twoSidedNormalQuantile } from "./normal-quantile";
import type { Limits } from "./survival-limits";

/** What happened in one interval of ages (a month in service, a year), where exact ages are not known. */
export interface AgeInterval {
  readonly to: number;
  readonly failed: number;
  /** Last seen running in this interval. */
  readonly withdrawn: number;
}

export interface ActuarialStep extends Limits {
  readonly to: number;
  /** Units that entered the interval, less the part of the withdrawn that was not watched to its end. */
  readonly atRisk: number;
  readonly failed: number;
  /** Share failed by the end of the interval. */
  readonly failedShare: number;
  readonly standardError: number;
}

/**
 * Answers: which share has failed by the end of each interval, when only the interval of each event is known?
 *
 * Life table: conditional share d / n per interval, Greenwood variance, limits on the logit scale. Units withdrawn "at-end"
 * were at risk through the whole interval (looked at once a year, say); withdrawn "spread" over it, half of them count.
 * With whole days for ages and lives of years the Kaplan-Meier curve needs none of this; with months it does.
 *
 * An interval with nobody at risk ends the table. Nothing failed yet: limits from 0 to 1 would say nothing and are given so.
 * Sources: Meeker & Escobar, Statistical Methods for Reliability Data (1998), sections 3.2 to 3.6; Berkson & Gage, Proc. Mayo
 * Clin. 25 (1950) 270-286 for the half.
 */
export function actuarialTable(
  units: number,
  intervals: readonly AgeInterval[],
  withdrawal: "at-end" | "spread",
  confidence = 0.95,
): ActuarialStep[] {
  const z = twoSidedNormalQuantile(confidence);
  const steps: ActuarialStep[] = [];
  let entering = units;
  let survival = 1;
  let greenwoodSum = 0;
  for (const { to, failed, withdrawn } of intervals) {
    const atRisk = entering - (withdrawal === "spread" ? withdrawn / 2 : 0);
    if (failed + withdrawn > entering) throw new RangeError(`more units leave by ${to} than the ${entering} there are`);
    if (atRisk === 0) return steps;
    survival *= 1 - failed / atRisk;
    greenwoodSum += failed < atRisk ? failed / (atRisk * (atRisk - failed)) : 0;
    const failedShare = 1 - survival;
    const standardError = survival * Math.sqrt(greenwoodSum);
    steps.push({ to, atRisk, failed, failedShare, standardError, ...logitLimits(failedShare, standardError, z) });
    entering -= failed + withdrawn;
  }
  return steps;
}

function logitLimits(share: number, standardError: number, z: number): Limits {
  if (share === 0 || share === 1) return { lower: 0, upper: 1 };
  const spread = Math.exp((z * standardError) / (share * (1 - share)));
  return { lower: share / (share + (1 - share) * spread), upper: share / (share + (1 - share) / spread) };
}
