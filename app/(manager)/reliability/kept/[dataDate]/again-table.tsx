import { type Column, DataTable } from "@/app/_components/data-table";
import { sayCost } from "@/lib/reliability/cost-sentences";
import { sayExpected } from "@/lib/reliability/forecast-sentences";
import { ALL_TOLD } from "@/lib/reliability/forecast-total";
import { grouped } from "@/lib/reliability/plain-share";
import type { AgainEnd, RolledAgain, RolledAgainOfAll } from "@/lib/reliability/roll-again";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { PacksLink } from "../../packs/packs-link";
import { RevisionName } from "../../revision-name";

interface AgainTableProps {
  readonly again: RolledAgainOfAll;
  /** Day of the forecast that was kept. */
  readonly from: CalendarDate;
  readonly linked: boolean;
}

/** What fails again of packs put right, then and now, with its cost: in no number of the reserve. */
export function AgainTable({ again, from, linked }: AgainTableProps) {
  const columns: readonly Column<RolledAgain>[] = [
    {
      head: "Revision",
      cell: ({ group }) => (group === ALL_TOLD ? ALL_TOLD : <RevisionName code={group} linked={linked} />),
    },
    { head: "In use again then", cell: ({ opening }) => <End end={opening} /> },
    {
      head: "Of them failed again since",
      numeric: true,
      cell: ({ group, came }) =>
        linked && group !== ALL_TOLD ? (
          <PacksLink by="revision" group={group} list="failed-again-since" filter={{ since: from }} count={came} />
        ) : (
          grouped(came)
        ),
    },
    { head: "In use again now", cell: ({ closing }) => <End end={closing} /> },
  ];
  return (
    <div className="space-y-2">
      <DataTable
        entriesWhenNarrow
        caption="Packs put right after a failure: what fails of them again until the end of cover, with 95 % limits"
        columns={columns}
        rows={[...again.revisions, { group: ALL_TOLD, ...again.total }]}
        rowKey={({ group }) => group}
        whenEmpty="No pack was put right."
      />
      <p className="max-w-4xl">
        On top of the reserve above: no step of it holds them. They are taken as no better and no worse than had they
        never failed.
      </p>
    </div>
  );
}

function End({ end }: { readonly end: AgainEnd | null }) {
  if (end === null) return "not kept with this forecast";
  const { packs, failures, cost } = end;
  return (
    <div className="min-w-48">
      {packs === 1 ? "1 pack" : `${grouped(packs)} packs`}
      {packs === 0 ? null : (
        <span className="block text-soft">
          {failures === null
            ? "what fails of them again cannot be told"
            : `${sayExpected(failures.expected)} to fail again, between ${grouped(failures.lower)} and ${grouped(failures.upper)}`}
          {failures === null ? null : cost === null ? "; their cost is not known" : `; ${sayCost(cost)}`}
        </span>
      )}
    </div>
  );
}
