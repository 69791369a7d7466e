import { QuestionForm } from "@/app/_components/question-form";
import { OrderedLine } from "@/app/_old-pack/ordered-line";
import type { ComesBackPage } from "@/lib/data/remedies/comes-back";
import { comesBackWords } from "@/lib/returns/comes-back";
import { orderComesBackAction } from "./actions";

const orderLabels = {
  "is-back": "It is back",
  "comes-back": "It comes back, by another day",
  "nothing-comes-back": "Nothing comes back any more",
} as const;

/** For service, manager and finance: what was said last of what the customer gives back, and the form that goes on from there. */
export function ComesBackPart({ reference, page }: { reference: string; page: ComesBackPage }) {
  const { last, isOverdue, orders, seenOrders } = page;
  return (
    <div className="space-y-4">
      <OrderedLine ordered={{ ...last, isOverdue }} words={comesBackWords[last.order]} />
      {last.order === "comes-back" ? <p>The return is not closed before it is back.</p> : null}
      {orders.length === 0 ? null : (
        <QuestionForm
          id="given-before"
          action={orderComesBackAction}
          hidden={{ reference, seenOrders: String(seenOrders) }}
          questions={[
            {
              name: "order",
              label: "What is to be recorded",
              choices: [
                { value: "", label: "Choose" },
                ...orders.map((value) => ({ value, label: orderLabels[value] })),
              ],
            },
            ...(orders.includes("comes-back")
              ? [{ name: "dueOn", label: "By which day, where it is another one", kind: "date" as const }]
              : []),
            {
              name: "why",
              label: "What came back and to whom, or why not",
              hint: "The dealer reads it.",
              kind: "long",
            },
          ]}
          button="Record it"
        />
      )}
    </div>
  );
}
