import Link from "next/link";
import type { Actor } from "@/lib/access/actor";
import { listUnansweredIncidents } from "@/lib/data/safety/incident-calls";
import { Notice } from "./notice";

/** On every page of whoever answers for incidents, until somebody has taken notice of each. */
export async function UnansweredIncidents({ actor }: { actor: Actor }) {
  const open = await listUnansweredIncidents(actor);
  if (open.length === 0) return null;
  return (
    <div className="mb-6 screen-only">
      <Notice
        kind="danger"
        title={`Nobody has acknowledged ${open.length === 1 ? "an incident" : "these incidents"} yet`}
      >
        <p>You are called again until a named person has. Reporting clocks may be running.</p>
        <p className="flex flex-wrap gap-x-4">
          {open.map((reference) => (
            <Link
              key={reference}
              href={`/incidents/${reference}`}
              className="inline-flex min-h-11 items-center font-semibold underline underline-offset-4"
            >
              {reference}
            </Link>
          ))}
        </p>
      </Notice>
    </div>
  );
}
