import type { Balance } from "@/lib/settlement/balance";
import { sayMoney } from "@/lib/settlement/money";
import { type Column, DataTable } from "./data-table";
import { FactList } from "./fact-list";

const columns: readonly Column<Balance>[] = [
  { head: "Currency", cell: ({ currency }) => currency },
  {
    head: "Owed, not yet paid",
    numeric: true,
    short: true,
    cell: ({ owedMinor, currency }) => <strong>{sayMoney(owedMinor, currency)}</strong>,
  },
  {
    head: "Claimed, not yet approved",
    numeric: true,
    short: true,
    cell: ({ openMinor, currency }) => sayMoney(openMinor, currency),
  },
  { head: "Paid so far", numeric: true, short: true, cell: ({ paidMinor, currency }) => sayMoney(paidMinor, currency) },
  { head: "Lines counted", numeric: true, short: true, cell: ({ lines }) => lines },
];

/** The balance per currency; different currencies are never added. */
export function BalanceList({ balances }: { balances: readonly Balance[] }) {
  const [only, ...more] = balances;
  if (only === undefined) return <p>Nothing is claimed and nothing is owed.</p>;
  if (more.length > 0)
    return (
      <DataTable
        entriesWhenNarrow
        caption="Balance by currency"
        captionHidden
        columns={columns}
        rows={balances}
        rowKey={({ currency }) => currency}
        whenEmpty=""
      />
    );
  return <FactList facts={columns.slice(1).map(({ head, cell }) => ({ term: head, detail: cell(only) }))} />;
}
