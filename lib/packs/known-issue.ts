import type { Fault, Remedy } from "@/lib/diagnosis/finding";
import type { CalendarDate } from "@/lib/warranty/calendar";

/** What the maker knows to be wrong with packs of a revision, of a lot, of a lot within a revision, or of a set of packs. */
export interface KnownIssue {
  readonly title: string;
  /** Null: whatever the revision. Revision or lot is given, or the set alone. */
  readonly revisionCode: string | null;
  readonly lotCode: string | null;
  /** A set of packs that share a cause, by its number. */
  readonly setNumber: number | null;
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
  /** The sets of packs that share a cause which name it. */
  readonly setNumbers: readonly number[];
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
    const { revisionCode, lotCode, setNumber } = issue;
    const isBound = revisionCode !== null || lotCode !== null || setNumber !== null;
    const hasRevision = revisionCode === null || revisionCode === pack.revisionCode;
    const hasLot = lotCode === null || pack.lotCodes.includes(lotCode);
    const isInSet = setNumber === null || pack.setNumbers.includes(setNumber);
    return isBound && hasRevision && hasLot && isInSet && isOpenOn(issue, on)
      ? [{ issue, because: reason(issue) }]
      : [];
  });
}

function reason({ revisionCode, lotCode, setNumber }: KnownIssue): string {
  const parts = [
    revisionCode === null ? "" : `is of revision ${revisionCode}`,
    lotCode === null ? "" : `holds lot ${lotCode}`,
    setNumber === null ? "" : `is named by set ${setNumber}`,
  ];
  return `The pack ${parts.filter((part) => part !== "").join(" and ")}.`;
}
