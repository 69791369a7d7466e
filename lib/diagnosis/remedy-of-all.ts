import { faultWords } from "@/lib/diagnosis/fault-words";
import { type Finding, type Remedy, safetyClasses } from "@/lib/diagnosis/finding";
import { remedyForFault, remedyPhrase } from "@/lib/diagnosis/remedy-for-fault";
import { areRivals } from "@/lib/diagnosis/rivals";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";

/** Confidence from which a finding behind the likeliest keeps a pack from being put right from afar. Engineering default. */
const countsBehind = 0.2;
/** Confidence from which a finding counts as true besides the likeliest. Engineering default. */
const surelyAlsoTrue = 0.5;
/** By how much the likeliest may be surer than a reading of the same thing as another fault, which is then not excluded. Engineering default. */
const nearlyAsSure = 0.2;

/**
 * Gravest first. What cannot be told stands before a repair: a pack is not repaired and given back while one of its findings
 * asks for the bench to look first; where it is replaced anyway, nothing waits for that. Engineering default.
 */
const gravestFirst = ["isolate", "replace", "cannot-tell", "repair", "remote-fix", "return-as-is"] as const;

export interface RemedyOfAll {
  readonly remedy: Remedy;
  /** Why it is not the usual remedy, or what it rests on. */
  readonly because: readonly string[];
  /** The sure finding whose remedy it is; the likeliest where it only has to be seen first. */
  readonly decidedBy: Finding;
  /** Which remedy it would be without that finding, or with one that is not sure yet. Whole sentences. */
  readonly wouldChange: readonly string[];
}

/**
 * The gravest remedy of the likeliest finding and of all that are sure and true besides; where several ask for the same, that of
 * the graver safety class decides. What is not excluded and asks for the bench keeps a pack from being put right from afar: a
 * finding that is not sure, and another fault that the same readings may be as well and nearly as likely are.
 */
export function remedyOfAll(leading: Finding, findings: readonly Finding[], context: SuggestionContext): RemedyOfAll {
  const others = findings.filter((other) => other !== leading && !areRivals(leading, other));
  const sure = [leading, ...others.filter(({ confidence }) => confidence >= surelyAlsoTrue)];
  const decidedBy = gravest(sure, context);
  const { remedy, because } = remedyForFault(decidedBy, context);
  const open = others.filter((other) => !sure.includes(other) && other.confidence >= countsBehind);
  const besides = [...withoutIt(decidedBy, sure, context), ...borneOut(open, remedy, context)];
  if (decidedBy !== leading) {
    const found =
      remedyForFault(leading, context).remedy === remedy
        ? []
        : leavesUnseen(remedyForFault(leading, context).remedy)
          ? [`It is not put right from afar: ${named(decidedBy)} was found as well.`]
          : [`The graver remedy counts: ${named(decidedBy)} was found as well.`];
    return { remedy, because: [...found, ...because], decidedBy, wouldChange: besides };
  }
  const unsound = findings.find((other) => other !== leading && isToBeSeen(other, leading, context));
  if (!leavesUnseen(remedy) || unsound === undefined) return { remedy, because, decidedBy, wouldChange: besides };
  return {
    remedy: "cannot-tell",
    because: [`It is not put right from afar while ${named(unsound)} is not excluded: the bench has to see it first.`],
    decidedBy: leading,
    wouldChange: [`If ${named(unsound)} is excluded: ${remedyPhrase[remedy]}.`],
  };
}

/** Whether it must be excluded before the pack is put right from afar for the likeliest finding. */
function isToBeSeen(other: Finding, leading: Finding, context: SuggestionContext): boolean {
  const { confidence } = other;
  if (confidence < countsBehind) return false;
  if (other.safetyClass !== "C") return true;
  if (leavesUnseen(remedyForFault(other, context).remedy)) return false;
  return !areRivals(leading, other) || confidence >= surelyAlsoTrue || confidence >= leading.confidence - nearlyAsSure;
}

/** Nobody would look at the pack. */
export function leavesUnseen(remedy: string): boolean {
  return remedy === "remote-fix" || remedy === "return-as-is";
}

function gravest(findings: readonly Finding[], context: SuggestionContext): Finding {
  const [decided] = findings.toSorted(
    (one, other) =>
      gravestFirst.indexOf(remedyForFault(one, context).remedy) -
        gravestFirst.indexOf(remedyForFault(other, context).remedy) ||
      safetyClasses.indexOf(one.safetyClass) - safetyClasses.indexOf(other.safetyClass),
  );
  if (decided === undefined) throw new RangeError("no finding to take a remedy from");
  return decided;
}

/** What the other sure findings ask for, should a test rule the deciding one out. */
function withoutIt(decidedBy: Finding, sure: readonly Finding[], context: SuggestionContext): string[] {
  const rest = sure.filter((other) => other !== decidedBy);
  if (rest.length === 0) return [];
  const next = gravest(rest, context);
  const { remedy } = remedyForFault(next, context);
  if (remedy === remedyForFault(decidedBy, context).remedy) return [];
  return [`If ${named(decidedBy)} is ruled out, ${named(next)} is left: ${remedyPhrase[remedy]}.`];
}

/** Findings not sure enough to count yet that ask for a graver remedy. */
function borneOut(open: readonly Finding[], remedy: Remedy, context: SuggestionContext): string[] {
  return open
    .map((one) => ({ one, own: remedyForFault(one, context).remedy }))
    .filter(({ own }) => own !== "cannot-tell" && gravestFirst.indexOf(own) < gravestFirst.indexOf(remedy))
    .map(({ one, own }) => `If ${named(one)} is borne out as well: ${remedyPhrase[own]}.`);
}

function named({ fault }: Finding): string {
  return `"${faultWords[fault].toLowerCase()}"`;
}
