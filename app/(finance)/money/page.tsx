import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { coverLabels } from "@/app/_components/cover-labels";
import { type Column, DataTable } from "@/app/_components/data-table";
import { HouseFrame } from "@/app/_components/house-frame";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { SerialText } from "@/app/_components/serial-text";
import { requireActor } from "@/lib/auth/session";
import { type CaseForMoney, listCasesForMoney } from "@/lib/data/cases-for-money";
import { remedyLabels } from "@/lib/returns/decision.schema";

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
  const actor = await requireActor("read-cases-for-money");
  const cases = await listCasesForMoney(actor);
  if (cases === null) notFound();
  return (
    <HouseFrame actor={actor} current="/money">
      <h1 className="mb-5">Decided returns, the newest first</h1>
      <DataTable
        caption="What was decided on each return, and how it stands under the maker's guarantee"
        columns={columns}
        rows={cases}
        rowKey={({ reference }) => reference}
        whenEmpty="Nothing is decided yet, so nothing is owed."
      />
    </HouseFrame>
  );
}
