import { CalendarDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import { QuestionForm } from "@/app/_components/question-form";
import type { ExchangeRate } from "@/lib/settlement/exchange";
import { setExchangeRateAction } from "./actions";
import { rateQuestions } from "./cost-questions";

const columns: readonly Column<ExchangeRate>[] = [
  { head: "One", cell: ({ currency }) => currency },
  { head: "Is worth", numeric: true, cell: ({ rate, into }) => `${rate} ${into}` },
  { head: "From", cell: ({ validFrom }) => <CalendarDay date={validFrom} /> },
];

/** Rates between currencies, dated; finance sets them. */
export function RatesPart({ rates, maySet }: { readonly rates: readonly ExchangeRate[]; readonly maySet: boolean }) {
  return (
    <section className="space-y-4">
      <h2>Rates between currencies</h2>
      <DataTable
        entriesWhenNarrow
        caption="Rates by currency and first day"
        captionHidden
        columns={columns}
        rows={rates}
        rowKey={({ currency, into, validFrom }) => `${currency} ${into} ${validFrom}`}
        whenEmpty="No rate is set: what is in another currency cannot be told yet."
      />
      {maySet ? (
        <QuestionForm id="rate" action={setExchangeRateAction} questions={rateQuestions} button="Set the rate" />
      ) : (
        <p className="text-soft">Rates are set by finance.</p>
      )}
    </section>
  );
}
