import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import { DownloadLink } from "@/app/_components/download-link";
import { HouseFrame } from "@/app/_components/house-frame";
import { LocalTime } from "@/app/_components/local-time";
import { SerialText } from "@/app/_components/serial-text";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import {
  readSupplierClaims,
  type SupplierClaimView,
  type SupplierSum,
  sayClaimMoney,
} from "@/lib/data/money/supplier-claims";
import { sayMoney } from "@/lib/settlement/money";
import { supplierStateWords } from "@/lib/settlement/supplier-claim";
import { ClaimSteps } from "./claim-steps";
import { OpenClaim } from "./open-claim";

export const metadata: Metadata = { title: "Suppliers" };

const sums: readonly Column<SupplierSum>[] = [
  { head: "Supplier", cell: ({ supplier }) => supplier },
  { head: "Open lines", cell: ({ lines }) => lines, numeric: true, short: true },
  { head: "What the failures cost", cell: ({ costMinor, currency }) => sayMoney(costMinor, currency), numeric: true },
  {
    head: "Agreed, not paid yet",
    cell: ({ agreedMinor, currency }) => (agreedMinor === 0 ? "Nothing yet" : sayMoney(agreedMinor, currency)),
    numeric: true,
  },
];

const lines: readonly Column<SupplierClaimView>[] = [
  {
    head: "Supplier, lot, return",
    cell: ({ supplier, lotCode, reference }) => (
      <>
        {supplier}, lot {lotCode}, <SerialText>{reference}</SerialText>
      </>
    ),
  },
  {
    head: "Stands at",
    cell: ({ state, noticeBy, isNoticeOverdue }) => (
      <>
        {supplierStateWords[state]}
        {noticeBy === null || state !== "possible" ? null : (
          <span className={`block ${isNoticeOverdue ? "font-semibold text-warn" : "text-soft"}`}>
            {isNoticeOverdue ? "The day for the notice is over: " : "Notice by "}
            <CalendarDay date={noticeBy} />
          </span>
        )}
      </>
    ),
  },
  { head: "Amounts", cell: (line) => sayClaimMoney(line) },
  {
    head: "What happened",
    cell: ({ moves }) => (
      <ol className="space-y-1">
        {moves.map(({ to, reason, actorName, at }) => (
          <li key={to}>
            {supplierStateWords[to]}: <span dir="auto">{reason}</span>{" "}
            <span className="text-soft">
              {actorName}, <LocalTime at={at} />
            </span>
          </li>
        ))}
      </ol>
    ),
  },
  { head: "Next", cell: (line) => <ClaimSteps line={line} /> },
];

/** What suppliers may owe for failures of their parts, from possible to recovered or written off. */
export default async function SuppliersPage() {
  const actor = await requireActor("claim-from-supplier");
  const page = await readSupplierClaims(actor);
  if (page === null) notFound();
  return (
    <HouseFrame actor={actor} current="/money">
      <div className="space-y-8">
        <div>
          <h1>What suppliers may owe</h1>
          <p>
            For failures of their parts. <Link href="/money">Back to the money</Link>
          </p>
        </div>
        <DataTable
          entriesWhenNarrow
          caption="What is open with each supplier"
          columns={sums}
          rows={page.sums}
          rowKey={({ supplier, currency }) => `${supplier} ${currency}`}
          whenEmpty="Nothing is open with any supplier."
        />
        {page.open.length === 0 ? null : (
          <DataTable
            entriesWhenNarrow
            caption="Open lines, by supplier, the longest open first"
            columns={lines}
            rows={page.open}
            rowKey={({ id }) => id}
            whenEmpty=""
          />
        )}
        {page.mayOpen ? <OpenClaim /> : null}
        {page.done.length === 0 ? null : (
          <details className="space-y-3">
            <summary className="min-h-11 cursor-pointer py-2 font-semibold">Recovered or written off</summary>
            <DataTable
              entriesWhenNarrow
              caption="Lines that are over"
              columns={lines}
              rows={page.done}
              rowKey={({ id }) => id}
              whenEmpty=""
            />
          </details>
        )}
        {may(actor, "export-money") ? (
          <p>
            <DownloadLink href="/money/suppliers/export">All suppliers' lines as a table file (CSV)</DownloadLink>
          </p>
        ) : null}
      </div>
    </HouseFrame>
  );
}
