import { LocalTime } from "@/app/_components/local-time";
import { listed } from "@/lib/diagnosis/wording";
import type { IncidentEntryRow } from "@/lib/safety/fold-incident";
import { reportingDecisionLabels } from "@/lib/safety/incident-decision";
import type { IncidentEntryContent } from "@/lib/safety/incident-entry.schema";
import { incidentFlagLabels } from "@/lib/safety/incident-flags";
import { namedPatternLabels } from "@/lib/safety/pattern-flags";
import { countryName } from "@/lib/transport/country-name";

/** Everything that was written, in its order; nothing here is ever changed. */
export function EntryList({ entries }: { entries: readonly IncidentEntryRow[] }) {
  return (
    <section aria-labelledby="record" className="space-y-3">
      <h2 id="record" className="border-b-2 border-ink pb-1">
        Record
      </h2>
      <ol className="space-y-3">
        {entries.map((entry) => (
          <li key={entry.sequence} className="border-l-4 border-rule pl-3">
            <p className="caption-print">
              {entry.sequence}. <LocalTime at={entry.at} />, {entry.byName}
            </p>
            <p>{entryWords(entry.content)}</p>
          </li>
        ))}
      </ol>
    </section>
  );
}

function entryWords(content: IncidentEntryContent): string {
  switch (content.kind) {
    case "knowledge":
      return `Known on ${content.knownAt.replace("T", " ").slice(0, 16)} UTC: ${content.note}`;
    case "flags":
      return `Signs: ${listed(content.flags.map((flag) => incidentFlagLabels[flag]))}.`;
    case "place":
      return `Country concerned: ${countryName(content.country)}.`;
    case "checklist":
      return `Done: ${content.line}.`;
    case "pattern":
      return `${namedPatternLabels[content.pattern]}: ${content.note}`;
    case "determination":
      return `Found to be safety-related: ${content.note}`;
    case "decision":
      return `${content.clockId}: ${reportingDecisionLabels[content.decision]}. ${content.reason}`;
    case "pack":
      return `The pack is ${content.serial}.`;
    case "closed":
      return `Closed: ${content.reason}`;
    case "acknowledged":
      return "Took notice; the calls end.";
    default: {
      const never: never = content;
      return never;
    }
  }
}
