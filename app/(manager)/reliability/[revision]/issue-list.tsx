import { CalendarDay } from "@/app/_components/calendar-day";
import { Stamp } from "@/app/_components/status-line";
import type { RevisionIssue } from "@/lib/data/packs/revision-issues";
import { sayFault } from "@/lib/diagnosis/fault-words";

/** What the maker knows to be wrong with packs of this revision or of a lot in them, open and closed. */
export function IssueList({ issues }: { issues: readonly RevisionIssue[] }) {
  if (issues.length === 0)
    return (
      <p className="text-soft">
        No known issue is on record. Whether it fails more than the others stands at the top of this page.
      </p>
    );
  return (
    <ul className="space-y-3">
      {issues.map((issue) => (
        <li key={`${issue.title} ${issue.openedOn}`} className="card space-y-2 p-3">
          <p className="font-semibold">{issue.title}</p>
          <p className="flex flex-wrap gap-2">
            <Stamp tone={issue.closedOn === null ? "warn" : "plain"}>
              {issue.closedOn === null ? "Open" : "Closed"}
            </Stamp>
            {issue.stopShip && issue.closedOn === null ? <Stamp tone="danger">Must not go out</Stamp> : null}
          </p>
          <p className="text-sm text-soft">
            {packsOf(issue)}; opened on <CalendarDay date={issue.openedOn} />
            {issue.closedOn === null ? null : (
              <>
                , closed on <CalendarDay date={issue.closedOn} />
              </>
            )}
            .{issue.faults.length === 0 ? "" : ` It is about: ${issue.faults.map(sayFault).join("; ").toLowerCase()}.`}
          </p>
          <p>{issue.action}</p>
        </li>
      ))}
    </ul>
  );
}

function packsOf({ lot, set }: RevisionIssue): string {
  if (set !== null) return `Those of its packs that set ${set.number} names`;
  return lot === null ? "All packs of this revision" : `Packs with lot ${lot.code} (from ${lot.supplier})`;
}
