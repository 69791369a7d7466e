import type { WeibullRefusal } from "@/lib/stats/weibull-fit";
import type { ForecastRefusal } from "./failure-forecast";

const weibullRefusals: Record<WeibullRefusal, string> = {
  "no-failures": "No unit has failed, so no Weibull distribution can be fitted.",
  "one-failure": "A single failure cannot fix the two parameters of a Weibull distribution.",
  "failures-only-at-largest-age":
    "All failures are at the largest age seen, so the likelihood grows without end as the shape does.",
  "early-ages-unobserved":
    "The units were first seen too late: their early ages are unobserved, and the likelihood has no maximum.",
  "limits-unbounded": "The failures are too few to bound shape and scale on both sides.",
};

const forecastRefusals: Record<ForecastRefusal, string> = {
  "nothing-running": "No unit is still running.",
  "horizon-beyond-observed-ages": "The horizon is longer than the largest age seen, so nothing supports the forecast.",
  "fit-too-uncertain": "The Weibull fit is too uncertain to give the forecast limits.",
};

/** Why there is no Weibull fit, in a sentence for whoever asked for one. */
export function weibullRefusal(reason: WeibullRefusal): string {
  return weibullRefusals[reason];
}

export function forecastRefusal(reason: ForecastRefusal): string {
  return forecastRefusals[reason];
}
