import { BalanceList } from "@/app/_components/balance-list";
import { type Column, DataTable } from "@/app/_components/data-table";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { RefundToPay } from "@/lib/data/money/refunds-to-pay";
import type { MoneyPage, StatementView } from "@/lib/data/money/settlement";
import { sayMoney } from "@/lib/settlement/money";
import { type OwedToDealer, owedToDealers } from "@/lib/settlement/owed-to";
import { forYou } from "./line-actions";

interface AnswerPartProps {
  readonly actor: Actor;
  readonly page: MoneyPage;
  readonly statements: readonly StatementView[];
  readonly refunds: readonly RefundToPay[] | null;
}

const columns: readonly Column<OwedToDealer>[] = [
  { head: "Dealer", cell: ({ dealerName }) => dealerName },
  {
    head: "Approved and not paid",
    numeric: true,
    cell: ({ amountMinor, currency }) => sayMoney(amountMinor, currency),
  },
];

const count = (many: number, one: string, more: string) => `${many} ${many === 1 ? one : more}`;

/** First what waits for whoever reads, then what is owed to whom; all else on the page is behind it. */
export function AnswerPart({ actor, page, statements, refunds }: AnswerPartProps) {
  const toPay = statements.filter(({ paidAt }) => paidAt === null);
  const waits = [
    count(forYou(actor, page.waiting).length, "line of money", "lines of money"),
    ...(refunds === null ? [] : [count(refunds.length, "refund to pay", "refunds to pay")]),
    ...(may(actor, "check-money") ? [count(toPay.length, "statement to pay", "statements to pay")] : []),
  ];
  const approved = page.waiting.filter(({ state }) => state === "approved");
  const owed = owedToDealers([
    ...approved,
    ...toPay.map(({ totalMinor, ...statement }) => ({ ...statement, amountMinor: totalMinor })),
  ]);
  return (
    <section className="space-y-3">
      <p>
        <strong>Waits for you:</strong> {waits.join(", ")}.
      </p>
      <BalanceList balances={page.balances} />
      <DataTable
        entriesWhenNarrow
        caption="What is owed to whom"
        columns={columns}
        rows={owed}
        rowKey={({ dealerName, currency }) => `${currency} ${dealerName}`}
        whenEmpty="Nothing that was approved is still to be paid."
      />
    </section>
  );
}
