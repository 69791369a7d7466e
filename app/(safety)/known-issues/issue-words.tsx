import { Stamp } from "@/app/_components/status-line";
import type { ProposalView } from "@/lib/data/safety/list-issues";
import { sayFault, sayRemedy } from "@/lib/diagnosis/fault-words";

/** What an issue says, and what it changes: for whoever approves it and for whoever looks it up. */
export function IssueWords({ words }: { words: ProposalView["words"] }) {
  const { action, stopShip, coversWhateverTheDate, faults, suggestedRemedy } = words;
  return (
    <>
      <p className="flex flex-wrap gap-2">
        {coversWhateverTheDate ? <Stamp tone="good">Covered whatever the date</Stamp> : null}
        {stopShip ? <Stamp tone="danger">Must not go out</Stamp> : null}
        {coversWhateverTheDate || stopShip ? null : <Stamp tone="plain">Covers and stops nothing</Stamp>}
      </p>
      <p>
        <span className="caption-print block">What is to be done</span>
        {action}
      </p>
      {faults.length === 0 && suggestedRemedy === null ? null : (
        <p className="text-soft">
          {faults.length === 0 ? "" : `It shows itself as: ${faults.map(sayFault).join("; ").toLowerCase()}. `}
          {suggestedRemedy === null ? "" : sayRemedy(suggestedRemedy)}
        </p>
      )}
    </>
  );
}
