import { type GroupResistanceResult, groupResistance } from "@/lib/readings/measure/group-resistance";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { staleShare } from "@/lib/readings/measure/stale-groups";
import { stepCorrelation } from "@/lib/readings/measure/step-correlation";

export interface SampledTogether {
  /** Refused, with the reason, where groups and current were not sampled together. */
  readonly resistance: GroupResistanceResult;
  readonly stepCorrelation: number | null;
  /** The same of the sum of the groups: low where only some of them were sampled late. */
  readonly sumCorrelation: number | null;
}

/**
 * Stage 4, the gate of everything that divides volts by amperes: whether group voltages and current of a row belong to one
 * moment. Boards that refresh some groups at a time give resistances that are wrong without looking wrong.
 */
export function gateSynchrony(survey: RowSurvey): SampledTogether {
  const { result, correlation } = judgeResistance(survey);
  return {
    resistance: result,
    stepCorrelation: correlation,
    sumCorrelation: result.outcome === "refused" ? null : stepCorrelation(survey, result.resistance.rows, survey.sumV),
  };
}

function judgeResistance(survey: RowSurvey): { result: GroupResistanceResult; correlation: number | null } {
  const result = groupResistance(survey);
  if (result.outcome === "refused") return { result, correlation: null };
  const correlation = stepCorrelation(survey, result.resistance.rows);
  const ohm = expectedOhm(survey, result.resistance.packMilliohm, result.resistance.medianMilliohm);
  const stale = staleShare(survey, result.resistance.rows, ohm);
  if (stale !== null && stale > survey.gates.staleShare) {
    return {
      result: {
        outcome: "refused",
        because: "other-moments",
        reason: `at ${(stale * 100).toFixed(0)} % of the load steps the groups repeat their last value: the monitor refreshes a few of them at a time`,
      },
      correlation,
    };
  }
  if (correlation !== null && correlation >= survey.gates.synchronyCorrelation) return { result, correlation };
  return {
    result: {
      outcome: "refused",
      because: "other-moments",
      reason: `group voltages do not move with the current in the same row (they agree to ${(correlation ?? 0).toFixed(2)}, together they would to nearly 1): they were sampled at other moments`,
    },
    correlation,
  };
}

/** The pack voltage is sampled by itself: where the groups are late it still tells what they should have moved by. */
function expectedOhm(survey: RowSurvey, packMilliohm: number | null, medianMilliohm: number): number {
  const fromPack = packMilliohm === null ? 0 : (0.7 * packMilliohm) / survey.groups;
  return Math.max(fromPack, medianMilliohm) / 1000;
}
