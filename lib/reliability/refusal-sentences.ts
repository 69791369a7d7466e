import type { DefectiveFractionRefusal } from "@/lib/stats/defective-fraction";
import type { EmpiricalBayesRefusal } from "@/lib/stats/empirical-bayes-rates";
import type { WeibullRefusal } from "@/lib/stats/weibull-fit";
import type { CoverForecastRefusal } from "./cover-forecast";
import { FEWEST_FOR_LAW } from "./failure-law";

const weibullRefusals: Record<WeibullRefusal, string> = {
  "no-failures": "No unit has failed, so no Weibull distribution can be fitted.",
  "one-failure": "A single failure cannot fix the two parameters of a Weibull distribution.",
  "failures-only-at-largest-age":
    "All failures are at the largest age seen, so the likelihood grows without end as the shape does.",
  "early-ages-unobserved":
    "The units were first seen too late: their early ages are unobserved, and the likelihood has no maximum.",
  "limits-unbounded": "The failures are too few to bound shape and scale on both sides.",
};

const forecastRefusals: Record<Exclude<CoverForecastRefusal, "no-law">, string> = {
  "too-few-failures": `Fewer than ${FEWEST_FOR_LAW} failures carry no law to foretell from.`,
  "nothing-running": "No unit is still running.",
  "horizon-beyond-observed-ages": "The horizon is longer than the largest age seen, so nothing supports the forecast.",
  "mostly-beyond-observed-ages":
    "Most of what would be foretold lies at ages no unit has reached: nothing supports it.",
  "fit-too-uncertain": "The law of failing is too uncertain to give the forecast limits.",
  "too-few-watched": "Too few units of it have been watched to give the forecast limits to plan by.",
};

/** Why there is no Weibull fit, in a sentence for whoever asked for one. */
export function weibullRefusal(reason: WeibullRefusal): string {
  return weibullRefusals[reason];
}

export function forecastRefusal(reason: Exclude<CoverForecastRefusal, "no-law">): string {
  return forecastRefusals[reason];
}

const defectiveRefusals: Record<DefectiveFractionRefusal, string> = {
  "too-few-failures": "Fewer than five failures cannot tell whether all units can fail or only a part of them.",
  "no-plain-fit": "No Weibull distribution fits all units, so there is nothing to compare with.",
  "no-better-than-plain": "Nothing points to units that never fail: the likelihood is highest if all of them can.",
};

const rankingRefusals: Record<EmpiricalBayesRefusal, string> = {
  "fewer-than-three-members": "Fewer than three groups do not show how far true rates spread.",
  "no-events": "No unit has failed, so there is nothing to rank by.",
  "no-spread-beyond-chance": "The rates differ by no more than chance would make them: a ranking would rank luck.",
};

/** Why no part of the units is set apart as able to fail. */
export function defectiveRefusal(reason: DefectiveFractionRefusal): string {
  return defectiveRefusals[reason];
}

/** Why groups are not ranked by rate. */
export function rankingRefusal(reason: EmpiricalBayesRefusal): string {
  return rankingRefusals[reason];
}
