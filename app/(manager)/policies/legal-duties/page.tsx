import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { requireActor } from "@/lib/auth/session";
import { type HeldDuty, readLegalTable } from "@/lib/data/warranty/legal-duty-versions";
import { dutyCountryName } from "./duty-country-name";
import { DutyRow } from "./duty-row";

export const metadata: Metadata = { title: "The seller's legal duty" };

export default async function LegalDutiesPage() {
  const actor = await requireActor("read-policies");
  const table = await readLegalTable(actor);
  if (table === null) notFound();
  const countries = byCountry(table.held);
  const open = new Set(table.proposals.filter(({ state }) => state === "proposed").map(({ duty }) => duty.country));
  const unconfirmed = table.held.filter(({ duty, countsToday }) => countsToday && duty.confirmation === null).length;
  return (
    <HouseFrame actor={actor} current="/policies">
      <div className="max-w-4xl space-y-6">
        <div className="space-y-2">
          <h1>The seller&rsquo;s legal duty, country by country</h1>
          <p>
            What the law of the country of sale asks of the seller, beside the maker&rsquo;s guarantee. A row is never
            edited: one manager proposes another, a second approves it, and an answer keeps the row that counted on its
            own day. Nothing here is legal advice.
          </p>
          <p className={unconfirmed === 0 ? "text-soft" : "font-semibold text-warn"}>
            {unconfirmed === 0
              ? "Counsel confirmed every row that counts today."
              : `${unconfirmed} rows that count today were confirmed by no counsel.`}
          </p>
        </div>
        {[...countries].map(([country, rows]) => (
          <details key={country} className="card">
            <summary className="min-h-12 cursor-pointer px-3 py-3 font-semibold">
              {dutyCountryName(country)} ({country}){open.has(country) ? " · a row is proposed" : ""}
            </summary>
            <div className="space-y-4 border-t border-rule p-3">
              {rows.map((row) => (
                <DutyRow key={row.fingerprint + row.duty.version} row={row} />
              ))}
              <Link
                href={`/policies/legal-duties/${country}`}
                className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
              >
                Propose or confirm a row for {dutyCountryName(country)}
              </Link>
            </div>
          </details>
        ))}
      </div>
    </HouseFrame>
  );
}

/** In the order of their names, the newest law of each first. */
function byCountry(held: readonly HeldDuty[]): Map<string, HeldDuty[]> {
  const rows = new Map<string, HeldDuty[]>();
  const sorted = [...held].sort(
    (one, other) =>
      dutyCountryName(one.duty.country).localeCompare(dutyCountryName(other.duty.country), "en") ||
      other.duty.salesFrom.localeCompare(one.duty.salesFrom),
  );
  for (const row of sorted) rows.set(row.duty.country, [...(rows.get(row.duty.country) ?? []), row]);
  return rows;
}
