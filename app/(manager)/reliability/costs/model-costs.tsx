import { type Column, DataTable } from "@/app/_components/data-table";
import { sayMeanCost } from "@/lib/reliability/cost-sentences";
import type { CostLine, FailureCost } from "@/lib/reliability/failure-cost";
import type { KnownPart } from "@/lib/reliability/part-cost";
import { remedyLabels } from "@/lib/returns/decision.schema";
import { costParts, costPartWords } from "@/lib/settlement/cost-assumption";
import { sayRoundMoney } from "@/lib/settlement/money";

/** What one failure of a model costs: the sentence, and the remedies it is put together from. */
export function ModelCosts({ model, cost }: { readonly model: string; readonly cost: FailureCost }) {
  return (
    <section className="space-y-3">
      <h3>{model}</h3>
      {cost.kind === "unknown" ? (
        <>
          <p className="font-semibold">Cannot tell yet. Forecasts show its failures only.</p>
          <ul className="list-disc space-y-1 pl-5">
            {cost.sentences.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </>
      ) : (
        <>
          <p className="max-w-4xl font-semibold">One failure costs {sayMeanCost(cost)}.</p>
          <details>
            <summary className="min-h-11 cursor-pointer py-2 font-semibold">How it is put together</summary>
            <DataTable
              caption={`Decided failures of ${model} by remedy and country, and what each costs`}
              columns={columnsIn(cost.currency)}
              rows={cost.lines}
              rowKey={({ remedy, country }) => `${remedy} ${country}`}
              whenEmpty="No failure of it is decided."
            />
          </details>
        </>
      )}
    </section>
  );
}

function columnsIn(currency: string): readonly Column<CostLine>[] {
  return [
    { head: "Remedy", cell: ({ remedy }) => remedyLabels[remedy] },
    { head: "Country", cell: ({ country }) => country },
    { head: "Failures", numeric: true, cell: ({ failures }) => failures },
    ...costParts.map(
      (part): Column<CostLine> => ({
        head: costPartWords[part],
        cell: ({ parts }) => (
          <div className="min-w-48">
            <Part {...parts[part]} currency={currency} />
          </div>
        ),
      }),
    ),
  ];
}

function Part({ mean, spread, error, sourceWords, currency }: KnownPart & { readonly currency: string }) {
  return (
    <>
      <strong>{sayRoundMoney(mean, currency)}</strong>, mean ± {sayRoundMoney(error, currency)}, single ones ±{" "}
      {sayRoundMoney(spread, currency)}
      <span className="block text-soft">{sourceWords}</span>
    </>
  );
}
