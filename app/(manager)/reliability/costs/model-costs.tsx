import { type Column, DataTable } from "@/app/_components/data-table";
import type { CostLine } from "@/lib/reliability/cost-lines";
import { besideSentence, sayMeanCost } from "@/lib/reliability/cost-sentences";
import type { FailureCost } from "@/lib/reliability/failure-cost";
import type { KnownPart } from "@/lib/reliability/part-cost";
import { inHundred, inHundredBetween } from "@/lib/reliability/plain-share";
import { remedyLabels } from "@/lib/returns/decision.schema";
import { costParts, costPartWords } from "@/lib/settlement/cost-assumption";
import { sayRoundMoney } from "@/lib/settlement/money";

interface ModelCostsProps {
  /** Its code, as the sentences and the list of costs name it. */
  readonly model: string;
  readonly name: string;
  readonly cost: FailureCost;
}

/** What one failure of a model costs: the sentences, and the remedies it is put together from. */
export function ModelCosts({ model, name, cost }: ModelCostsProps) {
  return (
    <section className="space-y-3">
      <h3>
        {name} ({model})
      </h3>
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
          <p className="max-w-4xl">{besideSentence(cost)}</p>
          <details>
            <summary className="min-h-11 cursor-pointer py-2 font-semibold">How it is put together</summary>
            <div className="space-y-3">
              <LineTable caption={`Decided failures of ${name}`} lines={cost.lines} currency={cost.currency} />
              {cost.beside.kind === "known" ? (
                <LineTable
                  caption={`Decided returns of ${name} without a confirmed failure`}
                  lines={cost.beside.lines}
                  currency={cost.currency}
                />
              ) : null}
            </div>
          </details>
        </>
      )}
    </section>
  );
}

interface LineTableProps {
  readonly caption: string;
  readonly lines: readonly CostLine[];
  readonly currency: string;
}

function LineTable({ caption, lines, currency }: LineTableProps) {
  return (
    <DataTable
      entriesWhenNarrow
      caption={`${caption} by remedy and country, and what each costs`}
      columns={columnsIn(currency)}
      rows={lines}
      rowKey={({ remedy, country }) => `${remedy} ${country}`}
      whenEmpty="None is decided."
    />
  );
}

function columnsIn(currency: string): readonly Column<CostLine>[] {
  return [
    { head: "Remedy", cell: ({ remedy }) => remedyLabels[remedy] },
    { head: "Country", cell: ({ country }) => country },
    { head: "Returns", numeric: true, cell: ({ returns }) => returns },
    {
      head: "Share of them, 95 % limits",
      cell: ({ share: { value, lower, upper } }) => `${inHundred(value)}, ${inHundredBetween(lower, upper)}`,
    },
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
