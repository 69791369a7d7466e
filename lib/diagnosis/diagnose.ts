import type { Baseline } from "@/lib/diagnosis/baseline";
import { compareWithBuilt } from "@/lib/diagnosis/compare-with-built";
import { calibrateFindings } from "@/lib/diagnosis/confidence-calibration";
import { judgeCoverage } from "@/lib/diagnosis/coverage";
import type { DiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import type { Finding, Measurement, Suggestion } from "@/lib/diagnosis/finding";
import { gatherEvidence } from "@/lib/diagnosis/gather-evidence";
import { listMeasurements } from "@/lib/diagnosis/list-measurements";
import type { NotSeen } from "@/lib/diagnosis/not-seen";
import { rankFindings } from "@/lib/diagnosis/rank-findings";
import { type ReadingDrawings, readingDrawings } from "@/lib/diagnosis/reading-drawings";
import { acuteEvent } from "@/lib/diagnosis/rules/acute-event";
import { highResistanceCell } from "@/lib/diagnosis/rules/high-resistance-cell";
import { highResistanceJoint } from "@/lib/diagnosis/rules/high-resistance-joint";
import { imbalance } from "@/lib/diagnosis/rules/imbalance";
import { mainLead } from "@/lib/diagnosis/rules/main-lead";
import { measurementFault } from "@/lib/diagnosis/rules/measurement-fault";
import { noFaultFound } from "@/lib/diagnosis/rules/no-fault-found";
import { outsideCause } from "@/lib/diagnosis/rules/outside-cause";
import { overDischarge } from "@/lib/diagnosis/rules/over-discharge";
import { powerStageFault } from "@/lib/diagnosis/rules/power-stage-fault";
import { selfDischarge } from "@/lib/diagnosis/rules/self-discharge";
import { senseWire } from "@/lib/diagnosis/rules/sense-wire";
import { temperatureSensor } from "@/lib/diagnosis/rules/temperature-sensor";
import { waterIngress } from "@/lib/diagnosis/rules/water-ingress";
import { weakCell } from "@/lib/diagnosis/rules/weak-cell";
import { settingsForModel } from "@/lib/diagnosis/settings-for-model";
import { suggest } from "@/lib/diagnosis/suggest";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";
import { weighAgainstBuilt } from "@/lib/diagnosis/weigh-against-built";
import type { PackModel } from "@/lib/packs/pack-model";
import type { ReadingFileSummary, ReadingLog } from "@/lib/readings/reading-log";

export interface DiagnosisInput {
  readonly log: ReadingLog;
  readonly summary: ReadingFileSummary;
  readonly model: PackModel;
  readonly settings?: DiagnosisSettings;
  readonly context?: SuggestionContext;
  /** What this pack was like when it was built, and what sound packs of its revision are like. */
  readonly baseline?: Baseline;
  /** Whether the pictures are wanted as well: they cost another pass over every group. */
  readonly draw?: boolean;
}

export interface Diagnosis {
  readonly measurements: Measurement[];
  /** Most likely first. */
  readonly findings: Finding[];
  readonly suggestion: Suggestion;
  /** Classes of fault this file could not have shown, whatever was found. */
  readonly unseen: readonly NotSeen[];
  /** As built beside as found, in whole sentences; null where no baseline was given. */
  readonly besideBuilt: readonly string[] | null;
  /** Null unless asked for. */
  readonly drawings: ReadingDrawings | null;
}

const rules = [
  acuteEvent,
  senseWire,
  measurementFault,
  temperatureSensor,
  weakCell,
  highResistanceCell,
  highResistanceJoint,
  selfDischarge,
  powerStageFault,
  imbalance,
  overDischarge,
  waterIngress,
  mainLead,
  outsideCause,
] as const;

/**
 * From a decoded readings file to measurements, findings with evidence, and a suggestion. A suggestion decides nothing.
 * "Cannot tell" is a result: it stands in the suggestion, with the reasons, whenever no finding is sure enough and the
 * log could not have shown a fault.
 */
export function diagnose({
  log,
  summary,
  model,
  settings = settingsForModel(model).settings,
  context = {},
  baseline,
  draw = false,
}: DiagnosisInput): Diagnosis {
  const evidence = gatherEvidence(log, summary, model, settings);
  const coverage = judgeCoverage(evidence);
  const measurements = listMeasurements(evidence);
  const found = rules.flatMap((rule) => rule(evidence));
  const faults = rankFindings(weighAgainstBuilt(found, measurements, baseline ?? null));
  const findings = calibrateFindings([...faults, ...noFaultFound(evidence, coverage, faults)], settings.calibration);
  return {
    measurements,
    findings,
    unseen: coverage.unseen,
    suggestion: suggest(findings, coverage, settings.verdict.suggestConfidence, context),
    besideBuilt: baseline === undefined ? null : compareWithBuilt(measurements, findings, baseline, model),
    drawings: draw ? readingDrawings(log, evidence, findings) : null,
  };
}
