import { CalendarDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import { SettleButtons } from "@/app/_two-people/settle-buttons";
import { ProposalPeople, ProposalStamp } from "@/app/_two-people/standing";
import type { CostView } from "@/lib/data/reliability/cost-assumptions";
import { remedyLabels } from "@/lib/returns/decision.schema";
import { costPartWords } from "@/lib/settlement/cost-assumption";
import { sayMoney } from "@/lib/settlement/money";
import { settleCostAction } from "./actions";

/** Every assumed cost with its state; a proposal can be approved by another manager, or dropped. */
export function CostList({ costs, maySettle }: { readonly costs: readonly CostView[]; readonly maySettle: boolean }) {
  const columns: readonly Column<CostView>[] = [
    { head: "For", cell: (cost) => <div className="min-w-48">{nameOf(cost)}</div> },
    { head: "From", cell: ({ validFrom }) => <CalendarDay date={validFrom} /> },
    { head: "Mean", numeric: true, cell: ({ meanMinor, currency }) => sayMoney(meanMinor, currency) },
    { head: "Mean off by", numeric: true, cell: ({ errorMinor, currency }) => sayMoney(errorMinor, currency) },
    { head: "Spread", numeric: true, cell: ({ spreadMinor, currency }) => sayMoney(spreadMinor, currency) },
    { head: "Returns behind it", numeric: true, cell: ({ cases }) => (cases === 0 ? "an estimate" : cases) },
    { head: "Where it comes from", cell: ({ why }) => <div className="min-w-48">{why}</div> },
    { head: "Standing", cell: (cost) => <Standing cost={cost} maySettle={maySettle} /> },
  ];
  return (
    <DataTable
      entriesWhenNarrow
      caption="Assumed costs, proposals first"
      columns={columns}
      rows={costs}
      rowKey={({ id }) => id}
      whenEmpty="Nothing is assumed yet, so no cost can be told where too few returns are settled."
    />
  );
}

function nameOf({ part, remedy, model, country }: CostView): string {
  return `${costPartWords[part]}: ${remedyLabels[remedy]}, ${model ?? "every model"}, ${country ?? "every country"}`;
}

function Standing({ cost, maySettle }: { readonly cost: CostView; readonly maySettle: boolean }) {
  return (
    <div className="min-w-48 space-y-2">
      <ProposalStamp state={cost.state} />
      <ProposalPeople people={cost} />
      {cost.state === "proposed" && maySettle ? (
        <SettleButtons
          proposal={cost.id}
          spoken={nameOf(cost)}
          isOwnProposal={cost.isOwnProposal}
          another="another manager"
          action={settleCostAction}
        />
      ) : null}
    </div>
  );
}
