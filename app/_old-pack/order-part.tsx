import Link from "next/link";
import { QuestionForm } from "@/app/_components/question-form";
import type { OldPackPage } from "@/lib/data/remedies/old-pack";
import { oldPackOrders, oldPackOrderWords } from "@/lib/returns/old-pack";
import { orderOldPackAction } from "./actions";
import { OrderedLine } from "./ordered-line";

interface OrderPartProps {
  readonly reference: string;
  readonly old: OldPackPage;
  readonly mayOrder: boolean;
}

/** For service: what becomes of the pack that a replacement or a refund left at the dealer's. */
export function OrderPart({ reference, old: { ordered, orders, whyItStays }, mayOrder }: OrderPartProps) {
  return (
    <div className="space-y-4">
      {ordered === null ? (
        <p className="font-semibold text-warn">
          It still lies at the dealer's, and nobody has said what becomes of it.
        </p>
      ) : (
        <OrderedLine ordered={ordered} words={oldPackOrderWords[ordered.order]} />
      )}
      {ordered === null || whyItStays === null ? null : (
        <p>
          It cannot leave yet: {whyItStays} <Link href={`/bench/${reference}/transport`}>Transport</Link>
        </p>
      )}
      {mayOrder ? (
        <QuestionForm
          id="old-pack"
          action={orderOldPackAction}
          hidden={{ reference, seenOrders: String(orders) }}
          questions={[
            {
              name: "order",
              label: "What becomes of it",
              choices: [
                { value: "", label: "Choose" },
                ...oldPackOrders.map((value) => ({ value, label: oldPackOrderWords[value] })),
              ],
            },
            { name: "dueOn", label: "By which day", kind: "date" },
            {
              name: "why",
              label: "Why, and what the dealer has to know",
              hint: "For a recycler: a licensed one who takes lithium batteries there. Local waste rules come first.",
              kind: "long",
            },
          ]}
          button={ordered === null ? "Tell the dealer" : "Order it otherwise"}
        />
      ) : null}
    </div>
  );
}
