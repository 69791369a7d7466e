import { QuestionForm } from "@/app/_components/question-form";
import { openSupplierClaimAction } from "./actions";

/** For a manager: the failure that is confirmed, the part that failed, and what it cost. */
export function OpenClaim() {
  return (
    <section className="space-y-3">
      <h2>Open a line</h2>
      <QuestionForm
        id="supplier-line"
        action={openSupplierClaimAction}
        questions={[
          { name: "reference", label: "Return", hint: "Its failure has to be confirmed by the decision." },
          { name: "lotCode", label: "Lot of the part that failed", hint: "As it stands in the build record." },
          { name: "amount", label: "What the failure cost", hint: "As 1234.50.", kind: "decimal" },
          { name: "currency", label: "Currency of the contract", hint: "Three letters, for example EUR." },
          {
            name: "noticeBy",
            label: "Last day for the notice, if the contract names one",
            hint: "Ask whoever keeps the contract: notices that come late are often lost.",
            kind: "date",
          },
          { name: "why", label: "What it rests on", hint: "Test, finding, report.", kind: "long" },
        ]}
        button="Open the line"
      />
    </section>
  );
}
