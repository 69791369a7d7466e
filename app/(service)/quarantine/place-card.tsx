import Link from "next/link";
import { DataTable } from "@/app/_components/data-table";
import { LocalTime } from "@/app/_components/local-time";
import { Stamp } from "@/app/_components/status-line";
import type { PlaceView, StayView } from "@/lib/data/receiving/quarantine-board";

/** One place: how full it is, in packs and in energy, and what lies there, the longest stay first. */
export function PlaceCard({ place }: { place: PlaceView }) {
  const { load } = place;
  return (
    <section aria-label={`Place ${place.code}`} className="card min-w-0 space-y-3 p-4">
      <h2>{place.code}</h2>
      <p className="text-soft">{place.whereItIs}</p>
      <p>
        {load.packs} of {place.maxPacks} packs, {load.energyKwh.toFixed(1)} of {place.maxEnergyKwh.toFixed(1)} kWh; at
        least {place.minimumHours} hours each.
        {load.overPacks || load.overEnergy ? <strong> Over its limit.</strong> : null}
      </p>
      <DataTable
        entriesWhenNarrow
        caption={`Packs in ${place.code}`}
        captionHidden
        columns={[
          {
            head: "Return",
            cell: (stay: StayView) => (
              <Link href={`/bench/${stay.reference}/receiving`}>
                <span className="whitespace-nowrap">{stay.reference}</span>
                {stay.isHeld ? (
                  <span className="mt-1 block">
                    <Stamp tone="warn">Legal hold</Stamp>
                  </span>
                ) : null}
              </Link>
            ),
          },
          { head: "Since", cell: (stay) => <LocalTime at={stay.placedAt} /> },
          { head: "Out at the earliest", cell: (stay) => <LocalTime at={stay.earliestOut} /> },
          { head: "kWh", cell: (stay) => stay.energyKwh.toFixed(1), numeric: true },
          { head: "State", cell: stateOf },
        ]}
        rows={place.stays}
        rowKey={(stay) => stay.reference}
        whenEmpty="Nothing lies here."
      />
      <p>
        <Link href={`/quarantine/${place.code}`}>Emergency card of {place.code}</Link>
      </p>
    </section>
  );
}

function stateOf({ verdict, tasks, overdue, identityOpen }: StayView): string {
  if (verdict.kind === "alarm") return "Alarm: it is changing";
  if (identityOpen) return "Nobody has settled which pack this is";
  if (tasks.some(({ state }) => state === "overdue")) return "A measurement is overdue";
  if (overdue) return "Lies too long";
  if (tasks.some(({ state }) => state === "due")) return "Measure now";
  return verdict.kind === "steady" ? "Steady" : "Being watched";
}
