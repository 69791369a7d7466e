import { OneStepForm } from "@/app/_components/one-step-form";
import { QuestionForm } from "@/app/_components/question-form";
import type { OldPackPage } from "@/lib/data/remedies/old-pack";
import { oldPackOrderWords } from "@/lib/returns/old-pack";
import { recycleOldPackAction, sendOldPackAction } from "./actions";
import { OrderedLine } from "./ordered-line";

/** For the dealer: what the old pack waits for, and the one step that records that it left. */
export function LeavePart({
  reference,
  old: { ordered, orders, whyItStays },
}: {
  reference: string;
  old: OldPackPage;
}) {
  if (ordered === null)
    return (
      <p>Keep the old pack as it is, set apart. The service desk tells you here what becomes of it, and by when.</p>
    );
  return (
    <div className="space-y-4">
      <OrderedLine ordered={ordered} words={oldPackOrderWords[ordered.order]} />
      {ordered.order === "recycle-there" ? (
        <p>
          Undiagnosed or damaged lithium packs go by road to a licensed recycler only in the packing that the transport
          rules name, never by post, parcel or air. Ask the recycler to fetch it; local rules and trained people come
          before anything on this page.
        </p>
      ) : null}
      {whyItStays === null ? (
        ordered.order === "send-in" ? (
          <OneStepForm
            action={sendOldPackAction}
            hidden={{ reference, seenOrders: String(orders) }}
            button="Handed to the carrier"
            spoken={`The old pack of ${reference} was handed to the carrier`}
            weight="main"
          />
        ) : (
          <QuestionForm
            id="old-pack-gone"
            action={recycleOldPackAction}
            hidden={{ reference, seenOrders: String(orders) }}
            questions={[
              {
                name: "certificate",
                label: "Who took it away, when, and the number of the disposal certificate",
                kind: "long",
              },
            ]}
            button="It was taken away"
          />
        )
      ) : (
        <p className="font-semibold">It cannot leave yet: {whyItStays}</p>
      )}
    </div>
  );
}
