import { wornPack } from "@/lib/diagnosis/aged-pack";
import type { Baseline } from "@/lib/diagnosis/baseline";
import { calibrateFindings } from "@/lib/diagnosis/confidence-calibration";
import type { Coverage } from "@/lib/diagnosis/coverage";
import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding, Measurement, Suggestion } from "@/lib/diagnosis/finding";
import type { NotSeen } from "@/lib/diagnosis/not-seen";
import { rankFindings } from "@/lib/diagnosis/rank-findings";
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
import { insulationAlone, waterIngress } from "@/lib/diagnosis/rules/water-ingress";
import { weakCell } from "@/lib/diagnosis/rules/weak-cell";
import { suggest } from "@/lib/diagnosis/suggest";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";
import { unexplainedAlarms } from "@/lib/diagnosis/unexplained-alarms";
import { unexplained } from "@/lib/diagnosis/unexplained-danger";
import { untoldGroups } from "@/lib/diagnosis/untold-groups";
import { untoldFalls } from "@/lib/diagnosis/watched-drift";
import { weighAgainstBuilt } from "@/lib/diagnosis/weigh-against-built";

/** One rule per class of fault a log can show; "no fault found" comes after them, and damage to the case is a person's to see. */
const rules = [
  acuteEvent,
  senseWire,
  measurementFault,
  temperatureSensor,
  weakCell,
  wornPack,
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

/** What the verdict rests on, once stages 1 to 8 are done. */
export interface Grounds {
  readonly evidence: Evidence;
  readonly measurements: readonly Measurement[];
  /** What the file could show and what it could not. */
  readonly coverage: Coverage;
  readonly baseline: Baseline | null;
  readonly context: SuggestionContext;
}

export interface Verdict {
  /** Most likely first; an acute event before all. */
  readonly findings: Finding[];
  readonly suggestion: Suggestion;
  /** Classes the file could not have shown, and dangers in it that no finding explains. */
  readonly unseen: readonly NotSeen[];
}

/**
 * Stage 9, the verdict. Every rule reads the evidence and states its belief, for and against; findings that another one
 * explains lose belief, and what the pack was like when it was built is held against them. Only where nothing is left, and
 * the file could have shown something, is it "no fault found". Beliefs become confidences as they have proved right, and
 * the suggestion is made of the findings: danger first, whatever is likelier.
 */
export function reachVerdict({ evidence, measurements, coverage, baseline, context }: Grounds): Verdict {
  const { calibration, verdict } = evidence.settings;
  const found = rules.flatMap((rule) => rule(evidence));
  const faults = rankFindings(weighAgainstBuilt(found, measurements, baseline), verdict);
  const alarms = unexplainedAlarms(evidence, faults);
  const dangers = [
    ...insulationAlone(evidence, faults).map((because) => unexplained("water-ingress", because, insulationFirst)),
    ...alarms.dangers,
    ...untoldFalls(evidence, faults).map((because) => unexplained("self-discharge", because, restFirst)),
  ].map((one) => ({ ...one, keepsFromSound: true }));
  const told = {
    ...coverage,
    missing: [
      ...coverage.missing,
      ...dangers.map(({ because }) => because),
      ...alarms.others,
      ...untoldGroups(evidence, faults),
    ],
    unseen: [...dangers, ...coverage.unseen],
  };
  const findings = calibrateFindings([...faults, ...noFaultFound(evidence, told, faults)], calibration);
  return {
    findings,
    suggestion: suggest(findings, told, verdict.suggestConfidence, context),
    unseen: told.unseen,
  };
}

const insulationFirst =
  "A qualified person measures the insulation of both terminals against the case before anybody opens or touches it bare-handed; then moisture and worn leads are looked for.";
const restFirst =
  "Rest of 7 days, apart, balancing off, logged every ten minutes: whether the group goes on falling. Nothing is charged or ridden until then.";
