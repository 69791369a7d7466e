import Link from "next/link";
import { DataTable } from "@/app/_components/data-table";
import { LocalTime } from "@/app/_components/local-time";
import type { UnsentDanger } from "@/lib/data/safety/unsent-dangers";
import { listed } from "@/lib/diagnosis/wording";
import { dangerLabels } from "@/lib/returns/danger-signs";
import { countryName } from "@/lib/transport/country-name";

/** A danger somebody told and did not send, of a pack nobody can name: only the dealer can say which it is. */
export function UnsentPart({ unsent }: { unsent: readonly UnsentDanger[] }) {
  if (unsent.length === 0) return null;
  return (
    <section id="unsent" className="space-y-3">
      <h2>Danger told, return not sent: ring the dealer</h2>
      <p>
        No pack is named that we know, so none is flagged. Ask which pack it is, where it lies and whether anybody is
        hurt; then have the return sent, or name the pack in its incident.
      </p>
      <DataTable
        entriesWhenNarrow
        caption="Danger told in returns that are not sent"
        columns={[
          {
            head: "What was told",
            cell: ({ signs }: UnsentDanger) => listed(signs.map((sign) => dangerLabels[sign])),
          },
          { head: "Since", cell: ({ since }) => <LocalTime at={since} /> },
          {
            head: "Incident",
            cell: ({ incident }) =>
              incident === null ? "None" : <Link href={`/incidents/${incident}`}>{incident}</Link>,
          },
          { head: "Dealer", cell: ({ dealer }) => `${dealer.name}, ${dealer.town} (${countryName(dealer.country)})` },
          {
            head: "By",
            cell: ({ savedByName, isDropped }) => (isDropped ? `${savedByName}; thrown away since` : savedByName),
          },
          { head: "Typed for the serial", cell: ({ serialTyped }) => (serialTyped === "" ? "Nothing" : serialTyped) },
        ]}
        rows={unsent}
        rowKey={({ id }) => id}
        whenEmpty="None."
      />
    </section>
  );
}
