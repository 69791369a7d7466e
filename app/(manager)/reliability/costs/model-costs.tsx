import { type Column, DataTable } from "@/app/_components/data-table";
import type { CostLine } from "@/lib/reliability/cost-lines";
import { afterCoverSentence, besideSentence, sayMeanCost } from "@/lib/reliability/cost-sentences";
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
  readonly costs: readonly RevisionCostProps[];
}

interface RevisionCostProps {
  readonly revisions: readonly string[];
  readonly cost: FailureCost;
}

/** What one failure of a model costs, by the revisions that are priced alike. */
export function ModelCosts({ model, name, costs }: ModelCostsProps) {
  return (
    <section className="space-y-3">
      <h3>
        {name} ({model})
      </h3>
      {costs.length === 0 ? <p>It has no revision yet.</p> : null}
      {costs.map((one) => (
        <RevisionCost key={one.cost.of} {...one} />
      ))}
    </section>
  );
}

/** The sentences, and the remedies it is put together from. */
function RevisionCost({ revisions, cost }: RevisionCostProps) {
  return (
    <div className="space-y-3">
      <h4 className="font-semibold">
        {revisions.length === 1 ? "Revision" : "Revisions"} {revisions.join(", ")}
      </h4>
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
          <p className="max-w-4xl">
            {besideSentence(cost)} {afterCoverSentence(cost)}
          </p>
          <details>
            <summary className="min-h-11 cursor-pointer py-2 font-semibold">How it is put together</summary>
            <div className="space-y-3">
              <LineTable
                caption={`Decided failures of ${cost.of} within cover`}
                lines={cost.lines}
                currency={cost.currency}
              />
              {cost.beside.kind === "known" ? (
                <LineTable
                  caption={`Decided returns of ${cost.of} within cover without a confirmed failure`}
                  lines={cost.beside.lines}
                  currency={cost.currency}
                />
              ) : null}
            </div>
          </details>
        </>
      )}
    </div>
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
