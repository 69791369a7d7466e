import Link from "next/link";
import { CalendarDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import { LocalTime } from "@/app/_components/local-time";
import type { RefundToPay } from "@/lib/data/money/refunds-to-pay";

const columns: readonly Column<RefundToPay>[] = [
  {
    head: "Return",
    cell: ({ reference }) => (
      <Link
        href={`/bench/${reference}/remedy`}
        className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
      >
        {reference}
      </Link>
    ),
  },
  { head: "Dealer", cell: ({ dealerName }) => dealerName },
  { head: "To pay", numeric: true, cell: ({ amount }) => amount ?? "cannot tell" },
  { head: "Paid before", numeric: true, cell: ({ paidBefore }) => paidBefore ?? "nothing" },
  { head: "Decided", cell: ({ decidedAt }) => <LocalTime at={decidedAt} /> },
  {
    head: "Pay by",
    cell: ({ payBy, isOverdue }) =>
      payBy === null ? (
        "cannot tell"
      ) : (
        <span className={isOverdue ? "font-semibold text-warn" : ""}>
          <CalendarDay date={payBy} />
          {isOverdue ? " (overdue)" : ""}
        </span>
      ),
  },
];

/** What customers wait for; that it is paid is recorded on the page of the remedy. */
export function RefundsPart({ rows }: { rows: readonly RefundToPay[] }) {
  return (
    <section className="space-y-3">
      <h2>Refunds to pay</h2>
      <DataTable
        entriesWhenNarrow
        caption="Refunds agreed with the customer and not paid yet"
        captionHidden
        columns={columns}
        rows={rows}
        rowKey={({ reference }) => reference}
        whenEmpty="No refund waits to be paid."
      />
    </section>
  );
}
