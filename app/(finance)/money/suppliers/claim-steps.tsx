import { type FormQuestion, QuestionForm } from "@/app/_components/question-form";
import type { SupplierClaimView } from "@/lib/data/money/supplier-claims";
import type { SupplierMoveName } from "@/lib/settlement/supplier-claim";
import { moveSupplierClaimAction } from "./actions";

const reason = (label: string): FormQuestion => ({ name: "reason", label });

const forms: Readonly<
  Record<SupplierMoveName, { readonly button: string; readonly questions: readonly FormQuestion[] }>
> = {
  notify: { button: "The supplier is told", questions: [reason("When and how it was told, and by which paper")] },
  "agree-share": {
    button: "Share agreed",
    questions: [
      { name: "share", label: "Share in percent", kind: "decimal" },
      { name: "amount", label: "Amount agreed", kind: "decimal" },
      reason("Who agreed, when, and on which paper"),
    ],
  },
  recover: {
    button: "Money came in",
    questions: [
      { name: "amount", label: "Amount that came in", kind: "decimal" },
      reason("Reference of the payment or credit note"),
    ],
  },
  "write-off": { button: "Write it off", questions: [reason("Why nothing more is asked")] },
};

/** The steps of the table that are open to this person on this line, each folded until it is wanted. */
export function ClaimSteps({ line: { id, version, next, supplier, lotCode } }: { line: SupplierClaimView }) {
  if (next.length === 0) return <span className="text-soft">Nothing for you</span>;
  return (
    <div className="space-y-2">
      {next.map((name) => (
        <details key={name} className="card">
          <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">
            {forms[name].button}
            <span className="sr-only">
              : {supplier}, lot {lotCode}
            </span>
          </summary>
          <div className="border-t border-rule p-3">
            <QuestionForm
              id={`${name}-${id}`}
              action={moveSupplierClaimAction}
              hidden={{ claimId: id, name, seenVersion: String(version) }}
              questions={forms[name].questions}
              button={forms[name].button}
            />
          </div>
        </details>
      ))}
    </div>
  );
}
