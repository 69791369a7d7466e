import { CalendarDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import { type FormQuestion, QuestionForm } from "@/app/_components/question-form";
import { sayMoney } from "@/lib/settlement/money";
import type { Rate } from "@/lib/settlement/rates";
import { countryName } from "@/lib/transport/country-name";
import { setRateAction } from "./actions";

const columns: readonly Column<Rate>[] = [
  { head: "Country", cell: ({ country }) => countryName(country) },
  { head: "For", cell: ({ kind }) => (kind === "labour" ? "An hour of labour" : "Freight of a return") },
  { head: "Rate", numeric: true, cell: ({ amountMinor, currency }) => sayMoney(amountMinor, currency) },
  { head: "From", cell: ({ validFrom }) => <CalendarDay date={validFrom} /> },
];

const questions: readonly FormQuestion[] = [
  {
    name: "kind",
    label: "For",
    choices: [
      { value: "labour", label: "An hour of labour" },
      { value: "freight", label: "Freight of a return" },
    ],
  },
  { name: "country", label: "Country", hint: "Two letters, for example DE." },
  { name: "currency", label: "Currency", hint: "Three letters, for example EUR." },
  { name: "amount", label: "Amount", hint: "For example 62.50." },
  { name: "validFrom", label: "From", hint: "A rate is never changed; a later one follows it.", kind: "date" },
];

export function RatesPart({ rates, maySet }: { rates: readonly Rate[]; maySet: boolean }) {
  return (
    <section className="space-y-4">
      <h2>Rates per country</h2>
      <DataTable
        entriesWhenNarrow
        caption="Rates per country and first day"
        captionHidden
        columns={columns}
        rows={rates}
        rowKey={({ id }) => id}
        whenEmpty="No rate is set, so no claim can be taken yet."
      />
      {maySet ? (
        <>
          <h3>Set a rate</h3>
          <QuestionForm id="rate" action={setRateAction} questions={questions} button="Set the rate" />
        </>
      ) : null}
    </section>
  );
}
