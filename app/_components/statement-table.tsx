import type { ReactNode } from "react";
import { sayMoney } from "@/lib/settlement/money";
import { type Column, DataTable } from "./data-table";
import { LocalTime } from "./local-time";

export interface StatementRow {
  readonly number: number;
  readonly dealerName: string;
  readonly currency: string;
  readonly totalMinor: number;
  readonly closedAt: Date;
  readonly closedByName: string;
  readonly paidAt: Date | null;
  readonly paymentReference: string | null;
}

interface StatementTableProps {
  readonly rows: readonly StatementRow[];
  readonly withDealer?: boolean;
  readonly actions?: (row: StatementRow) => ReactNode;
}

export function StatementTable({ rows, withDealer, actions }: StatementTableProps) {
  const columns: Column<StatementRow>[] = [
    { head: "Statement", cell: ({ number }) => number },
    ...(withDealer ? [{ head: "Dealer", cell: ({ dealerName }: StatementRow) => dealerName }] : []),
    { head: "Sum", numeric: true, cell: ({ totalMinor, currency }) => sayMoney(totalMinor, currency) },
    {
      head: "Closed",
      cell: ({ closedAt, closedByName }) => (
        <>
          <LocalTime at={closedAt} /> by {closedByName}
        </>
      ),
    },
    {
      head: "Paid",
      cell: ({ paidAt, paymentReference }) =>
        paidAt === null ? (
          "Not yet"
        ) : (
          <>
            <LocalTime at={paidAt} />, transfer {paymentReference}
          </>
        ),
    },
    ...(actions === undefined ? [] : [{ head: "Next", cell: actions }]),
  ];
  return (
    <DataTable
      entriesWhenNarrow
      caption="Statements"
      captionHidden
      columns={columns}
      rows={rows}
      rowKey={({ number }) => String(number)}
      whenEmpty="No statement is closed yet."
    />
  );
}
