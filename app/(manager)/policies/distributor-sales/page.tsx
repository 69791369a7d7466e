import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { AnswerForm } from "@/app/_components/answer-form";
import { AskedLong, AskedText } from "@/app/_components/asked-fields";
import { DataTable } from "@/app/_components/data-table";
import { HouseFrame } from "@/app/_components/house-frame";
import { LocalTime } from "@/app/_components/local-time";
import { requireActor } from "@/lib/auth/session";
import { type ImportedSales, listDistributorImports } from "@/lib/data/warranty/distributor-sales";
import { importSalesAction } from "./actions";

export const metadata: Metadata = { title: "Distributors' sales" };

/** Sales of distributors to dealers: the fourth rung of what the guarantee is counted from. */
export default async function DistributorSalesPage() {
  const actor = await requireActor("import-sales");
  const imports = await listDistributorImports(actor);
  if (imports === null) notFound();
  return (
    <HouseFrame actor={actor} current="/policies">
      <div className="space-y-8">
        <div className="space-y-2">
          <h1>Distributors&rsquo; sales</h1>
          <p className="max-w-4xl">
            Where neither a proof, a registration nor a word of the dealer says when a customer got a pack, the
            guarantee is estimated from the day its distributor sold it, plus the days packs lie at a dealer&rsquo;s. A
            proof of purchase always replaces the estimate, and no customer is refused on it.{" "}
            <Link href="/policies">Guarantee rules</Link>
          </p>
        </div>
        <section className="max-w-3xl space-y-4">
          <h2>Bring sales in</h2>
          <AnswerForm action={importSalesAction} submit="Bring them in">
            <AskedText name="distributor" label="Distributor" required maxLength={200} />
            <AskedText
              name="averageShelfDays"
              id="shelf-days"
              label="Days a pack lies at a dealer's, on average"
              hint="From your own records of packs whose sale to a customer is known."
              inputMode="numeric"
              required
              maxLength={4}
            />
            <AskedLong
              name="table"
              label="Table"
              hint="Paste it with its head: serial,sold on. Days as YYYY-MM-DD. One line that cannot be read refuses all."
              required
              rows={8}
              spellCheck={false}
              className="font-mono"
            />
          </AnswerForm>
        </section>
        <DataTable
          entriesWhenNarrow
          caption="Brought in so far, the latest first"
          columns={[
            { head: "When", cell: ({ importedAt }: ImportedSales) => <LocalTime at={importedAt} /> },
            { head: "Distributor", cell: ({ distributor }) => distributor },
            { head: "Packs", cell: ({ packs }) => packs },
            { head: "Days on the shelf", cell: ({ averageShelfDays }) => averageShelfDays },
            { head: "By", cell: ({ importedByName }) => importedByName },
          ]}
          rows={imports}
          rowKey={({ distributor, importedAt }) => `${distributor} ${importedAt.toISOString()}`}
          whenEmpty="Nothing was brought in yet: this rung of the evidence is empty."
        />
      </div>
    </HouseFrame>
  );
}
