import type { ReactNode } from "react";
import type { LineState } from "@/lib/settlement/line-moves";
import { sayMoney } from "@/lib/settlement/money";
import { type Column, DataTable } from "./data-table";
import { LineStanding } from "./line-standing";
import { LocalTime } from "./local-time";
import { SerialText } from "./serial-text";

export interface MoneyRow {
  readonly id: string;
  readonly reference: string;
  readonly dealerName: string;
  readonly what: string;
  readonly state: LineState;
  readonly currency: string;
  readonly amountMinor: number;
  readonly rateFrom: string | null;
  readonly reason: string;
  readonly claimedAt: Date;
  readonly claimedByName: string;
  readonly isReversed: boolean;
  readonly isReversalOpen: boolean;
  readonly statementNumber: number | null;
}

interface MoneyTableProps<Row extends MoneyRow> {
  readonly caption: string;
  readonly rows: readonly Row[];
  readonly whenEmpty: string;
  /** What may be done with a line; for finance. */
  readonly actions?: (row: Row) => ReactNode;
}

/** Lines of money, each with where it stands and why. */
export function MoneyTable<Row extends MoneyRow>({ caption, rows, whenEmpty, actions }: MoneyTableProps<Row>) {
  const columns: Column<Row>[] = [
    { head: "Return", cell: ({ reference }) => <SerialText>{reference}</SerialText> },
    { head: "Dealer", cell: ({ dealerName }) => dealerName },
    { head: "For", cell: ({ what }) => what },
    { head: "Amount", numeric: true, cell: ({ amountMinor, currency }) => sayMoney(amountMinor, currency) },
    { head: "Stands", cell: (row) => <LineStanding line={row} /> },
    {
      head: "Claimed",
      cell: ({ claimedAt, claimedByName }) => (
        <>
          <LocalTime at={claimedAt} /> by {claimedByName}
        </>
      ),
    },
    ...(actions === undefined ? [] : [{ head: "Next", cell: (row: Row) => actions(row) }]),
  ];
  return (
    <DataTable
      entriesWhenNarrow
      caption={caption}
      columns={columns}
      rows={rows}
      rowKey={({ id }) => id}
      whenEmpty={whenEmpty}
    />
  );
}
