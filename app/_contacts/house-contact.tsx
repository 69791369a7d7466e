import { AnswerForm } from "@/app/_components/answer-form";
import { AskedText } from "@/app/_components/asked-fields";
import { LocalTime } from "@/app/_components/local-time";
import type { ContactView } from "@/lib/data/returns/safety-contact";
import { revealContactAction } from "./actions";
import { ContactEvents } from "./contact-events";
import { RevealList } from "./reveal-list";

/** The house sees that there is a contact; whoever may see it says why, and the dealer reads who looked. */
export function HouseContact({ reference, view }: { reference: string; view: ContactView }) {
  return (
    <div className="space-y-3">
      {view.isKept && view.givenAt !== null ? (
        <p>
          A contact for safety notices is kept, given by {view.givenByName} on <LocalTime at={view.givenAt} />. It is
          sealed
          {view.mayReveal
            ? "."
            : ", and not yours to see: the service lead and the safety officer may, for a safety notice."}
        </p>
      ) : (
        <p className="text-soft">No contact of the customer is kept.</p>
      )}
      {view.mayReveal ? (
        <details className="card">
          <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">Show it, for a safety notice</summary>
          <div className="border-t border-rule p-3">
            <AnswerForm action={revealContactAction} submit="Show it and leave an entry in my name" weight="second">
              <input type="hidden" name="reference" value={reference} />
              <AskedText
                name="why"
                id="reveal-why"
                label="For which safety notice"
                required
                minLength={10}
                maxLength={500}
              />
            </AnswerForm>
          </div>
        </details>
      ) : null}
      {view.staysBecause === null ? null : <p>{view.staysBecause}</p>}
      {view.isKept || view.reveals.length > 0 ? <RevealList reveals={view.reveals} /> : null}
      <ContactEvents events={view.events} />
    </div>
  );
}
