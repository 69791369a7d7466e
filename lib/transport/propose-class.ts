import { classesThatStayTold, type Fault, isGrave, type SafetyClass, safetyClasses } from "@/lib/diagnosis/finding";
import type { TransportInput } from "@/lib/diagnosis/stages/transport-input";
import { readStoredFinding } from "@/lib/diagnosis/stored-finding";
import { defaultVerdictThresholds } from "@/lib/diagnosis/verdict-thresholds";
import { lowerFirst } from "@/lib/diagnosis/wording";
import { type DangerSign, dangerAnswers, dangerLabels, dangerOf, dangerSigns } from "@/lib/returns/danger-signs";
import { type Criterion, criteria, criterionOfFault, criterionOfSign } from "./criteria";
import type { TransportClass } from "./transport-class";

/** All that is known of a pack before it travels. Stored words are taken as they are; unknown ones never make it safer. */
export interface PackEvidence {
  /** As told by the dealer; "none-of-these" is no sign. */
  readonly dangerSigns: readonly string[];
  readonly conditions: readonly string[];
  readonly noFileReason: string | null;
  /** The newest file: what of the pack could be diagnosed is asked of it. */
  readonly readings: TransportInput | null;
  /** The files of the return before it. A danger or damage in one stays told, however sound a later one looks. */
  readonly earlierReadings: readonly EarlierReadingsFile[];
  /** Signs found by whoever had the pack in hand, in a sentence each. */
  readonly signsInHand: readonly string[];
  /** What a straight-edge says of the case against how it was built; null where it says nothing. */
  readonly ofCase: CaseSign | null;
  /** What was told in words since and the safety officer has judged, in a sentence each: it counts as damage at least. */
  readonly judged: readonly string[];
}

export interface CaseSign {
  readonly sentence: string;
  readonly safetyClass: SafetyClass;
  /** A named person has judged the pack since: what it is worth now stands among what was judged. */
  readonly isJudged: boolean;
}

export interface EarlierReadingsFile {
  readonly fileName: string;
  readonly findings: TransportInput["findings"];
  readonly suggestedRemedy: string | null;
}

export interface ClassProposal {
  readonly transportClass: TransportClass;
  /** The class of the diagnosis it rests on: U treated as B, or as A1 with a warning sign. */
  readonly safetyClass: SafetyClass;
  readonly reasons: readonly string[];
  /** What could not be diagnosed; not empty means it cannot be called sound. */
  readonly notDiagnosed: readonly string[];
  /** Criteria of special provision 376 that something here speaks to. */
  readonly criteria: readonly Criterion[];
}

/**
 * Proposes a class; a named person declares it. Never "not damaged" by default: no file, a file without a finding, low
 * coverage or "cannot tell" make class U, which is treated as damaged, or as liable to react with any warning sign.
 *
 * Source: ADR 2025, special provision 376: a battery that "cannot be diagnosed prior to carriage", is defective for safety
 * reasons, has leaked or vented, or is physically damaged counts as damaged or defective. What counts as a warning sign
 * and which danger sign is liable to react: engineering default, stricter than the provision.
 */
export function proposeClass(evidence: PackEvidence): ClassProposal {
  const signs = dangerSigns.filter((sign) => evidence.dangerSigns.includes(sign));
  const earlier = evidence.earlierReadings.map(({ fileName, ...file }) => ({
    fileName,
    found: readFindings(file).filter((one) => classesThatStayTold.includes(one.safetyClass)),
  }));
  const inFiles = [...readFindings(evidence.readings), ...earlier.flatMap((file) => file.found)];
  const { ofCase } = evidence;
  const onCase = ofCase === null || ofCase.isJudged ? [] : [{ fault: "mechanical-damage" as const, ...ofCase }];
  const found = [...inFiles, ...onCase];
  const notDiagnosed = gapsIn(evidence);
  const warnings = warningsIn(evidence, signs);
  const weighed = warnings.filter((sentence) => !evidence.judged.includes(sentence));
  const safetyClass = atLeastDamaged(classOf(signs, found, notDiagnosed, weighed), evidence.judged);
  const touched = new Set<Criterion | null>([
    ...signs.map((sign) => criterionOfSign[sign]),
    ...found.filter((one) => one.safetyClass !== "C").map((one) => criterionOfFault[one.fault]),
    ...(crashed(evidence) ? (["use-or-misuse", "physical-damage"] as const) : []),
    ...(ofCase === null ? [] : [criterionOfFault["mechanical-damage"]]),
  ]);
  return {
    transportClass: classOfSafety(safetyClass),
    safetyClass,
    reasons: [
      ...reasonsFor(safetyClass, warnings, inFiles, notDiagnosed),
      ...earlier
        .filter((file) => file.found.length > 0)
        .map(({ fileName }) => `Part of this is in earlier readings, ${fileName}: newer ones do not undo it.`),
      ...wetSentence(evidence),
      ...(safetyClass === "C" ? blindTo(evidence.readings) : []),
    ],
    notDiagnosed,
    criteria: criteria.filter((criterion) => touched.has(criterion)),
  };
}

/** The transport class that a class of the diagnosis comes to. */
export function classOfSafety(safetyClass: SafetyClass): TransportClass {
  if (safetyClass === "C") return "not-damaged";
  return isGrave(safetyClass) ? "do-not-ship" : "damaged";
}

interface ReadFinding {
  readonly fault: Fault;
  readonly safetyClass: SafetyClass;
}

/** A fault that a named criterion covers is at least damaged, whatever class was stored with it. */
function readFindings(file: Pick<TransportInput, "findings"> | null): ReadFinding[] {
  return (file?.findings ?? []).map((stored) => {
    const { fault, safetyClass: given } = readStoredFinding(stored);
    const isSafetyPart = ["internal-safety-components", "safety-features", "physical-damage", "acute-hazard"].includes(
      criterionOfFault[fault] ?? "",
    );
    return { fault, safetyClass: isSafetyPart && given === "C" ? "B" : given };
  });
}

function gapsIn({ readings, noFileReason }: PackEvidence): string[] {
  if (readings === null) {
    return [
      noFileReason === "reading-it-failed" || noFileReason === "pack-does-not-answer"
        ? "The pack could not be read: nothing about its cells is known."
        : "There is no readings file: nothing about its cells is known.",
    ];
  }
  const gaps: string[] = [];
  if (readings.findings.length === 0) gaps.push("The readings gave no finding, not even that nothing is wrong.");
  if (!(readings.timeCoverage >= (readings.leastTimeCoverage ?? defaultVerdictThresholds.timeCoverage))) {
    gaps.push(`Only ${Math.floor(100 * (readings.timeCoverage || 0))} % of the time is covered by readings.`);
  }
  if (readings.suggestedRemedy === null || readings.suggestedRemedy === "cannot-tell") {
    gaps.push("The readings do not allow a judgement of the whole pack.");
  }
  gaps.push(...unseenCells(readings));
  return gaps;
}

/** Faults that stand for what was asked of the cells: how they bear load and what they hold. Without both they are not diagnosed. */
const cellsAsked: ReadonlySet<string> = new Set(["high-resistance-cell", "weak-cell"]);

function unseenCells({ unseen, findings }: TransportInput): string[] {
  const open = unseen.filter(
    ({ fault }) => cellsAsked.has(fault) && !findings.some((finding) => finding.fault === fault),
  );
  return [...new Set(open.map(({ because }) => because))];
}

/** Water changes no class by itself, but whoever declares one is to know of it: inside a pack it shows days later. */
function wetSentence({ conditions }: PackEvidence): string[] {
  return conditions.includes("in-the-wet") || conditions.includes("after-washing")
    ? [
        "Told: it happens in the wet or after washing. Water in a pack shows days later: look for it before it is called sound.",
      ]
    : [];
}

/** What a person who declares a pack sound should know the readings were blind to. It changes no class. */
function blindTo(readings: TransportInput | null): string[] {
  return [...new Set((readings?.unseen ?? []).map(({ because }) => because))];
}

function warningsIn(evidence: PackEvidence, signs: readonly DangerSign[]): string[] {
  return [
    ...signs.map((sign) => `Told by the dealer: ${lowerFirst(dangerLabels[sign])}.`),
    ...unknownSigns(evidence).map((word) => `Told by the dealer, in a word that is not known here: ${word}.`),
    ...evidence.signsInHand,
    ...(evidence.ofCase === null || evidence.ofCase.isJudged ? [] : [`Read on the case: ${evidence.ofCase.sentence}`]),
    ...evidence.judged,
    ...(crashed(evidence) ? ["It happened after a crash or a drop."] : []),
    ...(evidence.noFileReason === "not-safe-to-connect" ? ["Nobody dared to connect anything to it."] : []),
    ...(evidence.readings?.suggestedRemedy === "isolate" ? ["The readings suggest to isolate it."] : []),
    ...evidence.earlierReadings
      .filter(({ suggestedRemedy }) => suggestedRemedy === "isolate")
      .map(({ fileName }) => `Earlier readings, ${fileName}, suggest to isolate it.`),
  ];
}

/** Signs of an older or a newer list: nobody here knows what they meant, so they count as signs. */
function unknownSigns({ dangerSigns: told }: PackEvidence): string[] {
  const known: readonly string[] = dangerAnswers;
  return told.filter((word) => !known.includes(word));
}

function crashed({ conditions }: PackEvidence): boolean {
  return conditions.includes("after-crash-or-drop");
}

function classOf(
  signs: readonly DangerSign[],
  found: readonly ReadFinding[],
  notDiagnosed: readonly string[],
  warnings: readonly string[],
): SafetyClass {
  const worst = safetyClasses.find((known) => found.some((one) => one.safetyClass === known)) ?? "U";
  if (worst === "A0" || dangerOf(signs).kind === "keep-away") return "A0";
  if (worst === "A1" || signs.length > 0) return "A1";
  const unknown = worst === "U" || notDiagnosed.length > 0;
  if (unknown && warnings.length > 0) return "A1";
  if (worst === "B" || warnings.length > 0) return "B";
  return unknown ? "U" : "C";
}

/** Judged by a named person, it is no unknown sign any more; sound it is not either. */
function atLeastDamaged(safetyClass: SafetyClass, judged: readonly string[]): SafetyClass {
  return judged.length > 0 && (safetyClass === "C" || safetyClass === "U") ? "B" : safetyClass;
}

/** What each class of the diagnosis says of a pack before it travels. */
export const safetyVerdicts: Readonly<Record<SafetyClass, string>> = {
  A0: "Something dangerous is going on or went on in this pack.",
  A1: "It may react dangerously on the way.",
  B: "It counts as damaged or defective.",
  U: "It cannot be diagnosed before carriage, and such a battery counts as damaged or defective.",
  C: "It was diagnosed, and nothing in the readings or in what was told counts as damage.",
};

function reasonsFor(
  safetyClass: SafetyClass,
  warnings: readonly string[],
  found: readonly ReadFinding[],
  notDiagnosed: readonly string[],
): string[] {
  const grave = found.filter((one) => one.safetyClass !== "C").length;
  return [
    safetyVerdicts[safetyClass],
    ...warnings,
    ...(grave === 0
      ? []
      : [`The readings hold ${grave === 1 ? "a finding" : `${grave} findings`} of damage or defect.`]),
    ...notDiagnosed,
  ];
}
