import type { Finding } from "@/lib/diagnosis/finding";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { type IssueOfPack, issuesOfPack, type KnownIssue, type PackOrigin } from "./known-issue";

/** A finding less likely than this is no ground to lay a pack to a known issue. Engineering default, no authority. */
export const FIT_CONFIDENCE = 0.3;

export type IssueFit =
  | { readonly kind: "fits"; readonly fault: Finding["fault"]; readonly sentence: string }
  | { readonly kind: "does-not-fit"; readonly sentence: string }
  | { readonly kind: "nothing-found-yet"; readonly sentence: string };

export interface CheckedIssue<Issue extends KnownIssue = KnownIssue> extends IssueOfPack<Issue> {
  readonly fit: IssueFit;
}

export type RevisionCheck<Issue extends KnownIssue = KnownIssue> =
  | { readonly kind: "no-known-issue"; readonly sentence: string }
  | { readonly kind: "known-issues"; readonly issues: readonly CheckedIssue<Issue>[]; readonly sentence: string };

type FoundFault = Pick<Finding, "fault" | "confidence">;

/**
 * Which known issues concern a pack, and whether what was found on it is what they are about. An issue that concerns
 * the pack keeps its action even where the fault is another one: the pack then has two troubles, not none.
 */
export function checkRevision<Issue extends KnownIssue>(
  pack: PackOrigin,
  issues: readonly Issue[],
  findings: readonly FoundFault[],
  on: CalendarDate,
): RevisionCheck<Issue> {
  const checked = issuesOfPack(pack, issues, on).map((concerned) => ({
    ...concerned,
    fit: fitOf(concerned.issue, findings),
  }));
  if (checked.length === 0) {
    return {
      kind: "no-known-issue",
      sentence: `Nothing is known to be wrong with packs built like this one (${pack.revisionCode}).`,
    };
  }
  const fitting = checked.filter(({ fit }) => fit.kind === "fits");
  const sentence =
    fitting.length > 0
      ? `What was found fits a known issue: ${fitting.map(({ issue }) => issue.title).join("; ")}.`
      : `Known for packs built like this one: ${checked.map(({ issue }) => issue.title).join("; ")}.`;
  return { kind: "known-issues", issues: checked, sentence };
}

/** Whether the findings are what an issue is about; a look that found no fault proves nothing either way. */
function fitOf(issue: Pick<KnownIssue, "faults">, findings: readonly FoundFault[]): IssueFit {
  const telling = findings
    .filter(({ fault, confidence }) => fault !== "no-fault-found" && confidence >= FIT_CONFIDENCE)
    .toSorted((a, b) => b.confidence - a.confidence);
  const [strongest] = telling;
  if (strongest === undefined) {
    return { kind: "nothing-found-yet", sentence: "Nothing was found yet that speaks for or against it." };
  }
  const match = telling.find(({ fault }) => issue.faults.includes(fault));
  if (match === undefined) {
    return {
      kind: "does-not-fit",
      sentence: `What was found (${inWords(strongest.fault)}) is not what this issue is about.`,
    };
  }
  return {
    kind: "fits",
    fault: match.fault,
    sentence: `What was found (${inWords(match.fault)}) is what this issue is about.`,
  };
}

function inWords(fault: string): string {
  return fault.replaceAll("-", " ");
}
