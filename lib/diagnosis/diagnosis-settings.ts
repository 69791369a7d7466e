import { type ConfidenceCalibration, defaultCalibration } from "@/lib/diagnosis/confidence-calibration";
import { defaultLeakThresholds, type LeakThresholds } from "@/lib/diagnosis/leak-thresholds";
import { defaultVerdictThresholds, type VerdictThresholds } from "@/lib/diagnosis/verdict-thresholds";
import { type AbuseGates, defaultAbuseGates } from "@/lib/readings/measure/abuse-gates";
import { type AcuteGates, defaultAcuteGates } from "@/lib/readings/measure/acute-gates";
import { defaultMeasureGates, type MeasureGates } from "@/lib/readings/measure/measure-gates";
import { defaultTapGates, type TapGates } from "@/lib/readings/measure/tap-errors";
import { defaultProbeGates, type ProbeGates } from "@/lib/readings/measure/temperature-probes";

/** Version of the rules: stored beside every suggestion, raised whenever a rule or a default changes. */
export const ruleVersion = "2026-12-e";

/** Everything a rule compares with. A pack model may bring its own; none of it is buried in a rule. */
export interface DiagnosisSettings {
  readonly measure: MeasureGates;
  readonly acute: AcuteGates;
  readonly tap: TapGates;
  readonly probe: ProbeGates;
  readonly abuse: AbuseGates;
  readonly verdict: VerdictThresholds;
  readonly leak: LeakThresholds;
  /** From a rule's belief to a confidence, by class of fault. */
  readonly calibration: ConfidenceCalibration;
}

export const defaultDiagnosisSettings: DiagnosisSettings = {
  measure: defaultMeasureGates,
  acute: defaultAcuteGates,
  tap: defaultTapGates,
  probe: defaultProbeGates,
  abuse: defaultAbuseGates,
  verdict: defaultVerdictThresholds,
  leak: defaultLeakThresholds,
  calibration: defaultCalibration,
};
