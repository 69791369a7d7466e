import Link from "next/link";
import { incidentFlagLabels } from "@/lib/safety/incident-flags";
import { type Pattern, SIMILAR_EVENTS } from "@/lib/safety/pattern-flags";

/** Similar events that share a lot or a revision. */
export function PatternsPart({ patterns }: { patterns: readonly Pattern[] }) {
  return (
    <section aria-labelledby="patterns" className="space-y-2">
      <h2 id="patterns">What they have in common</h2>
      {patterns.length === 0 ? (
        <p className="text-soft">No lot or revision shows the same sign in {SIMILAR_EVENTS} incidents or more.</p>
      ) : (
        <ul className="list-disc pl-5">
          {patterns.map(({ sharedBy, code, flag, references }) => (
            <li key={`${sharedBy} ${code} ${flag}`}>
              {sharedBy === "lot" ? "Lot" : "Revision"} {code}: {incidentFlagLabels[flag].toLowerCase()} in{" "}
              {references.length} incidents (
              {references.map((reference, index) => (
                <span key={reference}>
                  {index === 0 ? "" : ", "}
                  <Link href={`/incidents/${reference}`}>{reference}</Link>
                </span>
              ))}
              ). How many packs this lot or revision has in use is not weighed here.
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
