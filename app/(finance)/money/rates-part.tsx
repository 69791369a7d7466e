import { CalendarDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import { type FormQuestion, QuestionForm } from "@/app/_components/question-form";
import type { RateView } from "@/lib/data/money/settlement-rates";
import { sayMoney } from "@/lib/settlement/money";
import { countryName } from "@/lib/transport/country-name";
import { compareDates } from "@/lib/warranty/calendar";
import { endRateAction, setRateAction } from "./actions";

const columns: readonly Column<RateView>[] = [
  { head: "Country", cell: ({ country }) => countryName(country) },
  { head: "For", cell: ({ kind }) => (kind === "labour" ? "An hour of labour" : "Freight of a return") },
  { head: "Rate", numeric: true, cell: ({ amountMinor, currency }) => sayMoney(amountMinor, currency) },
  { head: "From", cell: ({ validFrom }) => <CalendarDay date={validFrom} /> },
  { head: "No longer from", cell: ({ until, validFrom }) => <Until until={until} validFrom={validFrom} /> },
];

function Until({ until, validFrom }: Pick<RateView, "until" | "validFrom">) {
  if (until === null) return null;
  return (
    <>
      <CalendarDay date={until} />
      {compareDates(until, validFrom) > 0 ? "" : " (never held)"}
    </>
  );
}

const whichRate: readonly FormQuestion[] = [
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
];
const questions: readonly FormQuestion[] = [
  ...whichRate,
  { name: "amount", label: "Amount", hint: "For example 62.50." },
  { name: "validFrom", label: "From", hint: "A rate is never changed; a later one follows it.", kind: "date" },
];
const endQuestions: readonly FormQuestion[] = [
  ...whichRate,
  { name: "endsOn", label: "First day on which it no longer holds", kind: "date" },
  { name: "why", label: "Why?", hint: "For example: the country has another currency from then on." },
];

export function RatesPart({ rates, maySet }: { rates: readonly RateView[]; maySet: boolean }) {
  // Where none is set no claim can be taken, so that is asked at once.
  return (
    <details className="card" open={rates.length === 0}>
      <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">
        Rates per country, {rates.length} set
      </summary>
      <div className="space-y-4 border-t border-rule p-3">
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
            <h2 className="text-lg">Set a rate</h2>
            <QuestionForm id="rate" action={setRateAction} questions={questions} button="Set the rate" />
            <details className="card">
              <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">
                End the rates of a country in one currency
              </summary>
              <div className="space-y-3 border-t border-rule p-3">
                <p>
                  A country has rates in one currency at a time, so that nobody chooses the better of two. What was set
                  to begin later in this currency ends with them.
                </p>
                <QuestionForm id="rate-end" action={endRateAction} questions={endQuestions} button="End them" />
              </div>
            </details>
          </>
        ) : null}
      </div>
    </details>
  );
}
