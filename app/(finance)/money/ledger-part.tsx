import { MoneyTable } from "@/app/_components/money-table";
import { OneStepForm } from "@/app/_components/one-step-form";
import { StatementTable } from "@/app/_components/statement-table";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { LineView, MoneyPage, StatementView } from "@/lib/data/money/settlement";
import { closeStatementAction, payStatementAction } from "./actions";
import { forYou, LineActions } from "./line-actions";

interface LedgerPartProps {
  readonly actor: Actor;
  readonly page: MoneyPage;
  readonly statements: readonly StatementView[];
}

/** The lines that wait for whoever reads, others and what is done with behind them, and the statements to close and to pay. */
export function LedgerPart({ actor, page, statements }: LedgerPartProps) {
  const mayClose = may(actor, "check-money");
  const own = forYou(actor, page.waiting);
  const others = page.waiting.filter((line) => !own.includes(line));
  return (
    <>
      <section className="space-y-3">
        <h2>What is claimed</h2>
        <MoneyTable
          caption="What waits for you, the longest first"
          rows={own}
          whenEmpty="Nothing waits for you to be checked or approved."
          actions={(line) => <LineActions actor={actor} line={line} />}
        />
        {others.length === 0 ? null : (
          <details className="space-y-3">
            <summary className="min-h-11 cursor-pointer py-2 font-semibold">
              Waits for others, or for a statement: {others.length}
            </summary>
            <MoneyTable
              caption="What waits for others, the longest first"
              rows={others}
              whenEmpty=""
              actions={(line) => <LineActions actor={actor} line={line} />}
            />
          </details>
        )}
        {mayClose
          ? readyToClose(page.waiting).map(({ dealerId, dealerName, currency }) => (
              <OneStepForm
                key={`${dealerId} ${currency}`}
                action={closeStatementAction}
                hidden={{ dealerId, currency }}
                button={`Close a statement for ${dealerName} in ${currency}`}
                spoken={`Close a statement for ${dealerName} in ${currency}`}
              />
            ))
          : null}
        {page.doneInAll === 0 ? null : (
          <details className="space-y-3">
            <summary className="min-h-11 cursor-pointer py-2 font-semibold">{shownOf(page)}</summary>
            <MoneyTable
              caption="In a statement, paid or refused, the newest first"
              rows={page.done}
              whenEmpty=""
              actions={(line) => <LineActions actor={actor} line={line} />}
            />
          </details>
        )}
      </section>
      <section className="space-y-3">
        <h2>Statements to pay</h2>
        <StatementTable
          rows={statements.filter(({ paidAt }) => paidAt === null)}
          withDealer
          {...(mayClose
            ? {
                actions: ({ number, paidAt }: StatementView) =>
                  paidAt === null ? (
                    <OneStepForm
                      action={payStatementAction}
                      hidden={{ number: String(number) }}
                      asks="Reference of the transfer"
                      button="Paid"
                      spoken={`Record statement ${number} as paid`}
                    />
                  ) : null,
              }
            : {})}
        />
        <PaidStatements rows={statements.filter(({ paidAt }) => paidAt !== null)} />
      </section>
    </>
  );
}

function PaidStatements({ rows }: { rows: readonly StatementView[] }) {
  if (rows.length === 0) return null;
  return (
    <details className="space-y-3">
      <summary className="min-h-11 cursor-pointer py-2 font-semibold">
        Paid statements, the newest first: {rows.length}
      </summary>
      <StatementTable rows={rows} withDealer />
    </details>
  );
}

function shownOf({ done, doneInAll }: MoneyPage): string {
  const all = doneInAll === 1 ? "1 line" : `${doneInAll} lines`;
  return `${all} in a statement, paid or refused${done.length < doneInAll ? `, the newest ${done.length}` : ""}`;
}

function readyToClose(lines: readonly LineView[]) {
  const approved = lines.filter(({ state }) => state === "approved");
  return [...new Map(approved.map((line) => [`${line.dealerId} ${line.currency}`, line])).values()];
}
