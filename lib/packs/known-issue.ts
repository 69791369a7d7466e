import type { Fault, Remedy } from "@/lib/diagnosis/finding";
import type { CalendarDate } from "@/lib/warranty/calendar";

/** What the maker knows to be wrong with packs of a revision, of a lot, or of a lot within a revision. */
export interface KnownIssue {
  readonly title: string;
  /** Null: whatever the revision. One of the two is given. */
  readonly revisionCode: string | null;
  readonly lotCode: string | null;
  readonly faults: readonly Fault[];
  /** What the maker asks to be done, in words. */
  readonly action: string;
  readonly suggestedRemedy: Remedy | null;
  readonly openedOn: CalendarDate;
  /** From this day on it no longer applies. */
  readonly closedOn: CalendarDate | null;
  /** True: packs concerned must not go out. */
  readonly stopShip: boolean;
}

export interface PackOrigin {
  readonly revisionCode: string;
  /** Every lot built into the pack: cells, joining, potting, board. */
  readonly lotCodes: readonly string[];
}

export interface IssueOfPack<Issue extends KnownIssue = KnownIssue> {
  readonly issue: Issue;
  /** Why it concerns this pack. */
  readonly because: string;
}

/** Whether an issue is open on a day: from the day it was opened until the day before it was closed. */
export function isOpenOn(issue: Pick<KnownIssue, "openedOn" | "closedOn">, on: CalendarDate): boolean {
  return issue.openedOn <= on && (issue.closedOn === null || on < issue.closedOn);
}

/** The open issues that concern a pack. One bound to a revision and a lot concerns only packs that have both. */
export function issuesOfPack<Issue extends KnownIssue>(
  pack: PackOrigin,
  issues: readonly Issue[],
  on: CalendarDate,
): IssueOfPack<Issue>[] {
  return issues.flatMap((issue) => {
    const { revisionCode, lotCode } = issue;
    const isBound = revisionCode !== null || lotCode !== null;
    const hasRevision = revisionCode === null || revisionCode === pack.revisionCode;
    const hasLot = lotCode === null || pack.lotCodes.includes(lotCode);
    return isBound && hasRevision && hasLot && isOpenOn(issue, on) ? [{ issue, because: reason(issue) }] : [];
  });
}

function reason({ revisionCode, lotCode }: KnownIssue): string {
  const parts = [
    revisionCode === null ? "" : `is of revision ${revisionCode}`,
    lotCode === null ? "" : `holds lot ${lotCode}`,
  ];
  return `The pack ${parts.filter((part) => part !== "").join(" and ")}.`;
}
