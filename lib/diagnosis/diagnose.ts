import { ruleVersion } from "@/lib/diagnosis/diagnosis-settings";
import type { Finding, Measurement, Suggestion } from "@/lib/diagnosis/finding";
import type { PackModel } from "@/lib/packs/pack-model";
import type { ReadingFileSummary, ReadingLog } from "@/lib/readings/reading-log";

export interface DiagnosisInput {
  readonly log: ReadingLog;
  readonly summary: ReadingFileSummary;
  readonly model: PackModel;
}

export interface Diagnosis {
  readonly measurements: readonly Measurement[];
  /** Most likely first. */
  readonly findings: readonly Finding[];
  readonly suggestion: Suggestion;
}

/** From a decoded readings file to measurements, findings with evidence, and a suggestion. A suggestion decides nothing. */
export function diagnose(_input: DiagnosisInput): Diagnosis {
  return {
    measurements: [],
    findings: [],
    suggestion: {
      remedy: "cannot-tell",
      reasons: ["No rule has judged this file yet: treat the pack as one that cannot be diagnosed."],
      ruleVersion,
    },
  };
}
