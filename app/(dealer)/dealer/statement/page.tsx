import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { BalanceList } from "@/app/_components/balance-list";
import { DealerFrame } from "@/app/_components/dealer-frame";
import { DownloadLink } from "@/app/_components/download-link";
import { type FormQuestion, QuestionForm } from "@/app/_components/question-form";
import { StatementTable } from "@/app/_components/statement-table";
import { requireActor } from "@/lib/auth/session";
import { listStatements, newClaimKey, readOwnMoney } from "@/lib/data/money/settlement";
import { operations } from "@/lib/settlement/operations";
import { claimMoneyAction } from "./actions";
import { LineList } from "./line-list";

export const metadata: Metadata = { title: "Statement" };

const questions: readonly FormQuestion[] = [
  { name: "reference", label: "Reference of the return" },
  {
    name: "kind",
    label: "What is claimed",
    hint: "Paid at the rate of the day it was done: of taking in the day the return was sent in, of freight the day the pack set out.",
    choices: [
      { value: "labour", label: "Work" },
      { value: "freight", label: "Freight" },
    ],
  },
  {
    name: "operation",
    label: "Which work",
    hint: "Not needed for freight.",
    choices: [
      { value: "", label: "Choose" },
      ...operations.map(({ code, label, minutesAllowed }) => ({
        value: code,
        label: `${label} (at most ${minutesAllowed} minutes)`,
      })),
    ],
  },
  {
    name: "currency",
    label: "Currency",
    hint: "Three letters, or nothing: it is that of the rate for your country.",
  },
  { name: "minutes", label: "Minutes", hint: "Not needed for freight.", kind: "number", value: "0" },
];

export default async function StatementPage() {
  const actor = await requireActor("read-own-money");
  const page = await readOwnMoney(actor);
  if (page === null) notFound();
  return (
    <DealerFrame actor={actor} current="/dealer/statement">
      <div className="space-y-8">
        <h1>Your account with the maker</h1>
        <BalanceList balances={page.balances} />
        <section className="space-y-3">
          <h2>Line by line</h2>
          <LineList lines={[...page.waiting, ...page.done]} />
          {page.done.length < page.doneInAll ? (
            <p>
              Of {page.doneInAll} lines in a statement, paid or refused, the newest {page.done.length} stand here. The
              file holds all.
            </p>
          ) : null}
          {page.waiting.length + page.doneInAll === 0 ? null : (
            <DownloadLink href="/dealer/statement/export">All lines as a table file (CSV)</DownloadLink>
          )}
        </section>
        <section className="space-y-3">
          <h2>Statements</h2>
          <StatementTable rows={await listStatements(actor)} />
        </section>
        <section className="space-y-3">
          <h2>Claim for a return</h2>
          <QuestionForm
            id="claim"
            action={claimMoneyAction}
            questions={questions}
            hidden={{ clientKey: newClaimKey() }}
            button="Claim"
          />
        </section>
      </div>
    </DealerFrame>
  );
}
