import { uncalibrated } from "@/lib/diagnosis/confidence-calibration";
import { type Diagnosis, diagnose } from "@/lib/diagnosis/diagnose";
import type { DiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import type { Fault, Finding } from "@/lib/diagnosis/finding";
import { settingsForModel } from "@/lib/diagnosis/settings-for-model";
import { createReadingDecoder } from "@/lib/readings/read-readings";
import type { Trial } from "./make-trial";
import type { PlantedFault } from "./planted-fault";
import { type Visibility, visibility } from "./visible-evidence";

export interface JudgedFault {
  readonly planted: PlantedFault;
  readonly visibility: Visibility;
  /** Named at the right groups, likeliest or with a confidence that is acted on, in a file that is not said to be sound. */
  readonly named: boolean;
  /** Among the findings at all, however unlikely. */
  readonly mentioned: boolean;
  /** Named first, or first among those of the faults planted. */
  readonly leads: boolean;
  /** The verdict says that the file could not have shown this class. */
  readonly saidUnseen: boolean;
}

export interface Verdict {
  readonly seed: number;
  readonly place: number;
  readonly healthyUse: Trial["healthyUse"];
  readonly unusable: string | null;
  readonly findings: readonly Finding[];
  readonly remedy: string;
  readonly reasons: readonly string[];
  readonly faults: readonly JudgedFault[];
  /** Findings that nothing planted explains; `no-fault-found` is not among them. */
  readonly falseFindings: readonly Finding[];
  /** Of each finding: whether it is right. For calibration. */
  readonly right: readonly boolean[];
}

interface Judged {
  readonly findings: readonly Finding[];
  readonly suggestion: Pick<Diagnosis["suggestion"], "remedy" | "reasons">;
  readonly unseen: Diagnosis["unseen"];
}

const decoder = (trial: Trial) => createReadingDecoder({ model: trial.bench.model });

/** Reads and diagnoses the file of a trial; `raw` leaves the rules' beliefs uncalibrated. */
export function judgeTrial(trial: Trial, raw = false): Verdict {
  const reading = decoder(trial);
  reading.push(new TextEncoder().encode(trial.text));
  const read = reading.end();
  const { seed, place, healthyUse } = trial;
  const diagnosis: Judged =
    read.kind === "unusable"
      ? {
          findings: [],
          unseen: [],
          suggestion: { remedy: "cannot-tell", reasons: [read.sentence] },
        }
      : diagnose({ log: read.log, summary: read.summary, model: trial.bench.model, settings: settingsOf(trial, raw) });
  const { findings, suggestion, unseen } = diagnosis;
  const faults = trial.planted.map((planted): JudgedFault => {
    const named = isNamed(findings, suggestion.remedy, planted);
    const mentioned = findings.some((finding) => isOf(finding, planted));
    const first = findings.find((finding) =>
      trial.planted.some((one) => finding.fault !== "no-fault-found" && isAbout(finding, one)),
    );
    const mine = findings.filter((finding) => isAbout(finding, planted))[0];
    const leads = mine !== undefined && isOf(mine, planted) && (trial.planted.length > 1 || first === findings[0]);
    const saidUnseen = unseen.some(({ fault }) => fault === planted.fault);
    return { planted, visibility: visibility(trial, planted), named, mentioned, leads, saidUnseen };
  });
  const right = findings.map((finding) =>
    finding.fault === "no-fault-found"
      ? // Sound of all it could show: a real fault outside that is forgiven only where the verdict says it could not be seen.
        faults.every(
          (fault) =>
            fault.visibility === "below the class" || (fault.visibility === "not in the log" && fault.saidUnseen),
        )
      : // The class itself: what a fault brings about besides has another remedy, and naming it surely would be wrong.
        trial.planted.some((planted) => isOf(finding, planted)),
  );
  const besides = trueBesides(trial);
  const falseFindings = findings.filter(
    ({ fault, ...finding }) =>
      fault !== "no-fault-found" &&
      !(trial.planted.length > 0 && besides.has(fault)) &&
      !trial.planted.some((planted) => isExplained({ fault, ...finding }, planted)),
  );
  return {
    seed,
    place,
    healthyUse,
    unusable: read.kind === "unusable" ? read.sentence : null,
    findings,
    remedy: suggestion.remedy,
    reasons: suggestion.reasons,
    faults,
    falseFindings,
    right,
  };
}

/** % of charge below empty at which a group is over-discharged, and V over its limit at which nothing cut a charge off. */
const drainedPercent = -3;
const uncutV = 0.15;

/** What a planted fault truly brought about in the simulated pack, whatever was meant. */
function trueBesides(trial: Trial): ReadonlySet<Fault> {
  const drained = trial.truth.some(({ percent }) => percent.some((one) => one < drainedPercent));
  const uncut = trial.highestGroupV > trial.bench.model.cellMaxV + uncutV;
  return new Set<Fault>([
    ...(drained ? (["over-discharge"] as const) : []),
    ...(uncut ? (["measurement-fault"] as const) : []),
  ]);
}

function sharesGroup(finding: Finding, planted: PlantedFault): boolean {
  return (
    planted.groups.length === 0 ||
    finding.groups.length === 0 ||
    finding.groups.some((group) => planted.groups.includes(group))
  );
}

/** The finding says what was planted, where it was planted: of a fault in a group it names that group. */
function isOf({ fault, groups }: Finding, planted: Pick<PlantedFault, "fault" | "groups">): boolean {
  const isThere = planted.groups.length === 0 || groups.some((group) => planted.groups.includes(group));
  return fault === planted.fault && isThere;
}

/** Confidence from which a reader acts on a finding that does not come first. Engineering default. */
const actedOnFrom = 0.5;

/**
 * Whether a reader learns of the fault: it comes first, or is sure enough to be acted on, at the group it was planted in; and the
 * pack is not given back as it is.
 */
export function isNamed(
  findings: readonly Finding[],
  remedy: string,
  planted: Pick<PlantedFault, "fault" | "groups">,
): boolean {
  if (remedy === "return-as-is") return false;
  return findings.some((finding, at) => isOf(finding, planted) && (at === 0 || finding.confidence >= actedOnFrom));
}

function settingsOf(trial: Trial, raw: boolean): DiagnosisSettings {
  const { settings } = settingsForModel(trial.bench.model);
  return raw ? { ...settings, calibration: uncalibrated } : settings;
}

/** Rivals by nature, which one further test separates: naming the other too, second, is no false alarm. */
const rivals: readonly (readonly Fault[])[] = [
  ["high-resistance-cell", "high-resistance-joint"],
  ["weak-cell", "imbalance"],
  ["self-discharge", "imbalance"],
];

function isExplained(finding: Finding, planted: PlantedFault): boolean {
  if (!sharesGroup(finding, planted)) return false;
  return (
    finding.fault === planted.fault ||
    planted.alsoTrue.includes(finding.fault) ||
    rivals.some((pair) => pair.includes(finding.fault) && pair.includes(planted.fault))
  );
}

function isAbout(finding: Finding, planted: PlantedFault): boolean {
  return isExplained(finding, planted);
}
