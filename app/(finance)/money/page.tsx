import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { coverLabels } from "@/app/_components/cover-labels";
import { type Column, DataTable } from "@/app/_components/data-table";
import { DownloadLink } from "@/app/_components/download-link";
import { HouseFrame } from "@/app/_components/house-frame";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { SerialText } from "@/app/_components/serial-text";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { type CaseForMoney, listCasesForMoney } from "@/lib/data/money/cases-for-money";
import { listReturnsWithoutLine } from "@/lib/data/money/nothing-owed";
import { listRefundsToPay } from "@/lib/data/money/refunds-to-pay";
import { listStatements, readMoney } from "@/lib/data/money/settlement";
import { listRates } from "@/lib/data/money/settlement-rates";
import { remedyLabels } from "@/lib/returns/decision.schema";
import { AnswerPart } from "./answer-part";
import { LedgerPart } from "./ledger-part";
import { NothingOwedPart } from "./nothing-owed-part";
import { RatesPart } from "./rates-part";
import { RefundsPart } from "./refunds-part";

export const metadata: Metadata = { title: "Money" };

const columns: readonly Column<CaseForMoney>[] = [
  { head: "Return", cell: ({ reference }) => <SerialText>{reference}</SerialText> },
  { head: "Dealer", cell: ({ dealerName }) => dealerName },
  { head: "Pack", cell: ({ serialShown }) => <SerialText>{serialShown}</SerialText> },
  { head: "Maker's guarantee", cell: ({ coverOutcome }) => labelOf(coverLabels, coverOutcome) },
  { head: "Decided", cell: ({ remedy }) => labelOf(remedyLabels, remedy) },
  { head: "When", cell: ({ decidedAt }) => <LocalTime at={decidedAt} /> },
];

export default async function MoneyPage() {
  const actor = await requireActor("read-cases-for-money", "read-money");
  const page = await readMoney(actor);
  if (page === null) notFound();
  const refunds = await listRefundsToPay(actor);
  const statements = await listStatements(actor);
  const withoutLine = await listReturnsWithoutLine(actor);
  const cases = await listCasesForMoney(actor);
  return (
    <HouseFrame actor={actor} current="/money">
      <div className="space-y-8">
        <h1>Money between the maker and its dealers</h1>
        <AnswerPart actor={actor} page={page} statements={statements} refunds={refunds} />
        {refunds === null || refunds.length === 0 ? null : <RefundsPart rows={refunds} />}
        <LedgerPart actor={actor} page={page} statements={statements} />
        {may(actor, "export-money") ? (
          <p>
            <DownloadLink href="/money/export">All lines as a table file (CSV)</DownloadLink>
          </p>
        ) : null}
        {may(actor, "claim-from-supplier") ? (
          <p>
            <Link href="/money/suppliers">What suppliers may owe</Link>
          </p>
        ) : null}
        {withoutLine === null ? null : <NothingOwedPart rows={withoutLine} />}
        <RatesPart rates={await listRates(actor)} maySet={may(actor, "set-rates")} />
        {cases === null ? null : (
          <details className="space-y-3">
            <summary className="min-h-11 cursor-pointer py-2 font-semibold">Decided returns, the newest first</summary>
            <DataTable
              entriesWhenNarrow
              caption="What was decided on each return, and how it stands under the maker's guarantee"
              columns={columns}
              rows={cases}
              rowKey={({ reference }) => reference}
              whenEmpty="Nothing is decided yet, so nothing is owed."
            />
          </details>
        )}
      </div>
    </HouseFrame>
  );
}
