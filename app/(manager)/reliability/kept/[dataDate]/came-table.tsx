import { type Column, DataTable } from "@/app/_components/data-table";
import type { RevisionRollForward } from "@/lib/data/roll-forwards";
import { sayReturned, saySoFar } from "@/lib/reliability/roll-sentences";
import { sayRoundMoney } from "@/lib/settlement/money";
import { RevisionName } from "../../revision-name";

interface CameTableProps {
  readonly revisions: readonly RevisionRollForward[];
  readonly currency: string;
  readonly linked: boolean;
}

/** What came in the period beside what was to be expected, and what dealers were paid. */
export function CameTable({ revisions, currency, linked }: CameTableProps) {
  const columns: readonly Column<RevisionRollForward>[] = [
    { head: "Revision", cell: ({ group }) => <RevisionName code={group} linked={linked} /> },
    {
      head: "Returns since, against what was expected",
      cell: (one) => <div className="min-w-64">{saySoFar(one)}</div>,
    },
    {
      head: "First returns since, whatever came of them",
      cell: ({ returns }) => <div className="min-w-64">{sayReturned(returns)}</div>,
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
