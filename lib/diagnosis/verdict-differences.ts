import { sayConfidence } from "@/lib/diagnosis/confidence-words";
import { sayFault, sayRemedy } from "@/lib/diagnosis/fault-words";
import type { Finding, Suggestion } from "@/lib/diagnosis/finding";
import { namedGroups } from "@/lib/diagnosis/wording";

/** What a judgement of one file comes to. */
export interface Verdict {
  readonly findings: readonly Pick<Finding, "fault" | "groups" | "confidence">[];
  readonly suggestion: Pick<Suggestion, "remedy">;
}

/** Confidences closer than this are told alike: half of one in a hundred. */
const sameConfidence = 0.005;

/** What another judgement of the same file says otherwise, in sentences, the suggestion first; empty where nothing. */
export function verdictDifferences(before: Verdict, after: Verdict): string[] {
  const remedy =
    before.suggestion.remedy === after.suggestion.remedy
      ? []
      : [`Suggestion: ${sayRemedy(before.suggestion.remedy)} becomes ${sayRemedy(after.suggestion.remedy)}.`];
  const was = new Map(before.findings.map((finding) => [sayFinding(finding), finding.confidence]));
  const is = new Map(after.findings.map((finding) => [sayFinding(finding), finding.confidence]));
  const changed = [...is].flatMap(([finding, confidence]) => {
    const old = was.get(finding);
    if (old === undefined) return [`Found besides: ${finding} (${sayConfidence(confidence)}).`];
    if (Math.abs(old - confidence) < sameConfidence) return [];
    return [`${finding}: ${sayConfidence(old)} becomes ${sayConfidence(confidence)}.`];
  });
  const gone = [...was].filter(([finding]) => !is.has(finding)).map(([finding]) => `No longer found: ${finding}.`);
  return [...remedy, ...changed, ...gone];
}

/** A finding by its class and place: "Imbalance, group 7". */
export function sayFinding({ fault, groups }: Pick<Finding, "fault" | "groups">): string {
  return groups.length === 0 ? sayFault(fault) : `${sayFault(fault)}, ${namedGroups(groups)}`;
}
