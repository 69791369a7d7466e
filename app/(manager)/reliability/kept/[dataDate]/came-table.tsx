import { type Column, DataTable } from "@/app/_components/data-table";
import type { RevisionRollForward } from "@/lib/data/reliability/roll-forwards";
import type { PackList } from "@/lib/reliability/pack-lists";
import { grouped } from "@/lib/reliability/plain-share";
import { sayAgainst } from "@/lib/reliability/roll-sentences";
import { sayRoundMoney } from "@/lib/settlement/money";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { PacksLink } from "../../packs/packs-link";
import { RevisionName } from "../../revision-name";

interface CameTableProps {
  readonly revisions: readonly RevisionRollForward[];
  readonly currency: string;
  /** Day of the forecast that was kept. */
  readonly from: CalendarDate;
  readonly linked: boolean;
}

/** What came in the period beside what was to be expected, and what dealers were paid. */
export function CameTable({ revisions, currency, from, linked }: CameTableProps) {
  const opened = (group: string, list: PackList, count: number) =>
    linked ? (
      <PacksLink by="revision" group={group} list={list} filter={{ since: from }} count={count} />
    ) : (
      grouped(count)
    );
  const columns: readonly Column<RevisionRollForward>[] = [
    { head: "Revision", cell: ({ group }) => <RevisionName code={group} linked={linked} /> },
    {
      head: "Returns since, against what was expected",
      cell: (one) => (
        <div className="min-w-64">
          {opened(one.group, "failed-since", one.arisen.confirmed)} confirmed
          {one.arisen.undecided === 0 ? null : (
            <>, and {opened(one.group, "undecided-since", one.arisen.undecided)} not decided</>
          )}
          {sayAgainst(one)}
        </div>
      ),
    },
    {
      head: "First returns since, whatever came of them",
      cell: ({ group, returns }) => (
        <div className="min-w-64">
          {returns === null ? (
            "not kept with this forecast"
          ) : (
            <>
              {opened(group, "first-returned-since", returns.came)}
              {sayAgainst(returns)}
            </>
          )}
        </div>
      ),
    },
    {
      head: "Paid to dealers since",
      cell: ({ paid }) => ("sentence" in paid ? paid.sentence : sayRoundMoney(paid.amountMinor, currency)),
    },
  ];
  return (
    <DataTable
      entriesWhenNarrow
      caption="What came since, with the 95 % limits the forecast gave"
      columns={columns}
      rows={revisions}
      rowKey={({ group }) => group}
      whenEmpty="The forecast held no revision."
    />
  );
}
