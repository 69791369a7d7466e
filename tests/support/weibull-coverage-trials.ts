import { LifeTally } from "@/lib/stats/life-tally";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { weibullLife, weibullLimits } from "@/lib/stats/weibull-limits";
import type { CoverageTrial } from "@/tests/support/coverage-trials";

const SHAPE = 2;
const B10 = (-Math.log(0.9)) ** (1 / SHAPE);

interface Lives {
  readonly units: number;
  /** Watched for so long; the scale is 1. */
  readonly end: number;
  /** Only of fleets with at most so many failures. */
  readonly mostFailures?: number;
}
/** 24 failures on average, and five. */
const many: Lives = { units: 50, end: 0.8 };
const five: Lives = { units: 100, end: 0.23 };
const few: Lives = { units: 60, end: 0.23, mostFailures: 4 };

function trial(of: "shape" | "life" | "wald", { units, end, mostFailures = units }: Lives): CoverageTrial {
  return (random) => {
    const tally = new LifeTally();
    for (let unit = 0; unit < units; unit++) {
      const life = (-Math.log(1 - random())) ** (1 / SHAPE);
      tally.add(0, Math.min(life, end), life <= end);
    }
    const fit = fitWeibull(tally.counts());
    if (fit.kind !== "fit" || fit.failures > mostFailures) return null;
    const [limits, life] = [weibullLimits(fit), weibullLife(fit, 0.1)];
    if (limits === null || life === null) return null;
    if (of === "shape") return limits.shape.lower <= SHAPE && SHAPE <= limits.shape.upper;
    const { lower, upper } = of === "life" ? life : life.wald;
    return lower <= B10 && B10 <= upper;
  };
}

/** Weibull lives of shape 2: likelihood-ratio limits of the shape and of the age by which a tenth has failed, and limits of plus and minus standard errors. */
export const weibullShape = trial("shape", many);
export const weibullLifeOfTenth = trial("life", many);
export const weibullLifeOfFive = trial("life", five);
export const weibullShapeOfFew = trial("shape", few);
export const waldLife = trial("wald", many);
export const waldLifeOfFive = trial("wald", five);
