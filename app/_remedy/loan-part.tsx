import { LocalTime } from "@/app/_components/local-time";
import { QuestionForm } from "@/app/_components/question-form";
import { SerialText } from "@/app/_components/serial-text";
import type { RemedyView } from "@/lib/data/remedies/remedy-view";
import { loanLookLabels, loanLooks } from "@/lib/packs/loan-back";
import { lendAction, loanBackAction } from "./actions";

type Loans = Pick<RemedyView, "reference" | "loans" | "isOpen">;

/** A pack lent while the return lasts: which, since when, and how it came back. */
export function LoanPart({ remedy: { reference, loans, isOpen }, mayLend }: { remedy: Loans; mayLend: boolean }) {
  const isOut = loans.some(({ returnedAt }) => returnedAt === null);
  return (
    <div className="space-y-4">
      {loans.length === 0 ? <p className="text-soft">No pack is lent.</p> : null}
      <ul className="space-y-1">
        {loans.map(({ serialShown, lentAt, lentByName, returnedAt, condition }) => (
          <li key={lentAt.toISOString()}>
            <SerialText>{serialShown}</SerialText>, lent on <LocalTime at={lentAt} /> by {lentByName}
            {returnedAt === null ? (
              <strong>; not back yet</strong>
            ) : (
              <>
                ; back on <LocalTime at={returnedAt} />: {condition}
              </>
            )}
            .
          </li>
        ))}
      </ul>
      {mayLend && isOut ? (
        <QuestionForm
          id="loan-back"
          action={loanBackAction}
          hidden={{ reference }}
          questions={[
            {
              name: "look",
              label: "How does it look?",
              hint: "Anything but as lent sets the pack apart and calls the safety officer; nobody uses, charges or lends it then. If it is hot, smokes or smells: keep people away first, and follow your local emergency services.",
              choices: [
                { value: "", label: "Choose" },
                ...loanLooks.map((value) => ({ value, label: loanLookLabels[value] })),
              ],
            },
            {
              name: "condition",
              label: "In a few words",
              hint: "For example: half charged, clean, ridden for a week.",
            },
          ]}
          button="It is back"
        />
      ) : null}
      {mayLend && !isOut && isOpen ? (
        <details className="card">
          <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">Lend a pack</summary>
          <div className="border-t border-rule p-3">
            <QuestionForm
              id="loan"
              action={lendAction}
              hidden={{ reference }}
              questions={[
                {
                  name: "serial",
                  label: "Serial of the pack that is lent",
                  hint: "From the dealer's own stock. A pack at the works is not lent: it would travel without a transport class.",
                },
              ]}
              button="Record the loan"
            />
          </div>
        </details>
      ) : null}
    </div>
  );
}
