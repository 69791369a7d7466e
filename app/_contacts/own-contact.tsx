import { AnswerForm } from "@/app/_components/answer-form";
import { AskedText } from "@/app/_components/asked-fields";
import type { ContactView } from "@/lib/data/returns/safety-contact";
import { eraseContactAction, keepContactAction } from "./actions";
import { ContactEvents } from "./contact-events";
import { RevealList } from "./reveal-list";

/** The dealer keeps how a customer can be reached for a safety notice, sees it, and erases it. No return needs one. */
export function OwnContact({ reference, view }: { reference: string; view: ContactView }) {
  return (
    <div className="space-y-4">
      <p>
        Only if the customer wants it: how to reach them with a warning if packs like this one turn out to be dangerous.
        It is used for nothing else, and neither the return nor the guarantee depends on it.
      </p>
      {view.own === null ? null : (
        <>
          <p>
            Kept: <strong>{view.own}</strong>
          </p>
          {view.staysBecause === null ? (
            <AnswerForm action={eraseContactAction} submit="Erase it" weight="second">
              <input type="hidden" name="reference" value={reference} />
            </AnswerForm>
          ) : (
            <p>{view.staysBecause}</p>
          )}
        </>
      )}
      {view.isKept || view.reveals.length > 0 ? <RevealList reveals={view.reveals} /> : null}
      <ContactEvents events={view.events} />
      <details className="card">
        <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">
          {view.staysBecause !== null
            ? "Keep another one beside it"
            : view.isKept
              ? "Keep another one in its place"
              : "Keep a contact"}
        </summary>
        <div className="border-t border-rule p-3">
          <AnswerForm action={keepContactAction} submit="Keep it">
            <input type="hidden" name="reference" value={reference} />
            <AskedText
              name="contact"
              id="safety-contact"
              label="Telephone number or address for mail"
              required
              maxLength={300}
              autoComplete="off"
            />
            <label className="flex min-h-12 items-center gap-3">
              <input type="checkbox" name="agreed" value="yes" required className="size-6 accent-accent" />
              The customer wants this, for safety notices alone
            </label>
          </AnswerForm>
        </div>
      </details>
    </div>
  );
}
