import Link from "next/link";
import { dealerIncidentNotice } from "@/lib/safety/incident-checklist";
import { Notice } from "./notice";

/** On every page of a return whose pack an incident holds. Only who answers for incidents gets the way to them. */
export function IncidentBanner({ open, linked }: { open: readonly string[]; linked: boolean }) {
  if (open.length === 0) return null;
  return (
    <Notice kind="danger" title={dealerIncidentNotice.title}>
      {dealerIncidentNotice.sentences.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      <p>
        {open.map((reference) =>
          linked ? (
            <Link key={reference} href={`/incidents/${reference}`} className="mr-3 font-semibold underline">
              {reference}
            </Link>
          ) : (
            <span key={reference} className="mr-3 font-semibold">
              {reference}
            </span>
          ),
        )}
      </p>
    </Notice>
  );
}
