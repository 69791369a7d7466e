import type { Baseline } from "@/lib/diagnosis/baseline";
import { compareWithBuilt } from "@/lib/diagnosis/compare-with-built";
import { type Coverage, judgeCoverage, withWholePack } from "@/lib/diagnosis/coverage";
import type { DiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding, Measurement, Suggestion } from "@/lib/diagnosis/finding";
import { gatherEvidence } from "@/lib/diagnosis/gather-evidence";
import { listMeasurements } from "@/lib/diagnosis/list-measurements";
import type { NotSeen } from "@/lib/diagnosis/not-seen";
import { columnDrawings, type ReadingDrawings, readingDrawings } from "@/lib/diagnosis/reading-drawings";
import { settingsForModel } from "@/lib/diagnosis/settings-for-model";
import { reachVerdict } from "@/lib/diagnosis/stages/verdict";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";
import { type WholePackResistance, wholePackResistance } from "@/lib/diagnosis/whole-pack-resistance";
import type { ModelThresholds, PackModel } from "@/lib/packs/pack-model";
import { type Both, inTurn } from "@/lib/readings/both";
import type { ReadingFileSummary, ReadingLog } from "@/lib/readings/reading-log";
import { type TracePicture, withGroupTraces } from "@/lib/readings/trace-picture";

export interface DiagnosisInput {
  readonly log: ReadingLog;
  readonly summary: ReadingFileSummary;
  readonly model: PackModel;
  readonly settings?: DiagnosisSettings;
  readonly context?: SuggestionContext;
  /** What this pack was like when it was built, and what sound packs of its revision are like. */
  readonly baseline?: Baseline;
}

export interface Diagnosis {
  readonly measurements: Measurement[];
  /** Most likely first. */
  readonly findings: Finding[];
  readonly suggestion: Suggestion;
  /** Classes of fault this file could not have shown, whatever was found. */
  readonly unseen: readonly NotSeen[];
  /** Thresholds the model had of its own: with the rule version they say by which settings this was judged. */
  readonly thresholds: ModelThresholds;
  /** As built beside as found, in whole sentences; null where no baseline was given. */
  readonly besideBuilt: readonly string[] | null;
}

export interface DrawnDiagnosis {
  readonly diagnosis: Diagnosis;
  readonly traces: TracePicture;
  readonly drawings: ReadingDrawings;
}

/**
 * From a decoded readings file to measurements, findings with evidence, and a suggestion. A suggestion decides nothing.
 * "Cannot tell" is a result: it stands in the suggestion, with the reasons, whenever no finding is sure enough and the
 * log could not have shown a fault.
 */
export function diagnose(input: DiagnosisInput): Diagnosis {
  const measured = measure(input, inTurn);
  return judge(input, measured, withWholePack(judgeCoverage(measured.evidence), besideOthers(input, measured)));
}

/** The same with its pictures, which cost another pass over every group. On two threads with a `both` that shares the work. */
export function diagnoseAndDraw(input: DiagnosisInput, both: Both = inTurn): DrawnDiagnosis {
  const { log } = input;
  const measured = measure(input, both);
  const { evidence } = measured;
  const [ofLog, { wholePack, drawn }] = both(
    () => judgeCoverage(evidence),
    () => ({ wholePack: besideOthers(input, measured), drawn: columnDrawings(log, evidence) }),
  );
  // The rules ask for what the coverage asked for: the thread that judged it goes on, and the other one takes the verdict from it.
  const [diagnosis] = both(
    () => judge(input, measured, withWholePack(ofLog, wholePack)),
    () => null,
  );
  const { traces, deviations } = drawn;
  const { findings } = diagnosis;
  return {
    diagnosis,
    traces: withGroupTraces(
      traces,
      log,
      findings.flatMap(({ groups }) => groups),
    ),
    drawings: readingDrawings(evidence, findings, deviations),
  };
}

interface Measured {
  readonly evidence: Evidence;
  readonly measurements: Measurement[];
}

function measure({ log, summary, model, settings }: DiagnosisInput, both: Both): Measured {
  const evidence = gatherEvidence(log, summary, model, settings ?? settingsForModel(model).settings, both);
  return { evidence, measurements: listMeasurements(evidence, both) };
}

function besideOthers({ baseline }: DiagnosisInput, { evidence, measurements }: Measured): WholePackResistance {
  return wholePackResistance(evidence, measurements, baseline ?? null);
}

function judge(
  { model, context = {}, baseline }: DiagnosisInput,
  { evidence, measurements }: Measured,
  coverage: Coverage,
): Diagnosis {
  const grounds = { evidence, measurements, coverage, baseline: baseline ?? null, context };
  const { findings, suggestion, unseen } = reachVerdict(grounds);
  return {
    measurements,
    findings,
    unseen,
    suggestion,
    thresholds: model.diagnosis ?? {},
    besideBuilt: baseline === undefined ? null : compareWithBuilt(measurements, findings, baseline, model),
  };
}
