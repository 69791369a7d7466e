import { QuestionForm } from "@/app/_components/question-form";
import { unitPlaceAction } from "@/app/_remedy/actions";
import type { UnitPlace } from "@/lib/data/remedy-view";
import { custodyWords } from "@/lib/returns/custody-track";

/** Where the pack that was sent is, and the news of it: it arrived, came back, was looked at, or is missing. */
export function UnitPlacePart({ reference, place, unit }: { reference: string; place: UnitPlace; unit?: string }) {
  return (
    <>
      <p>
        <strong>{custodyWords[place.state]}.</strong>
      </p>
      {place.next.length === 0 ? null : (
        <details className="card">
          <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">Record where it is now</summary>
          <div className="border-t border-rule p-3">
            <QuestionForm
              id={unit === undefined ? "unit-place" : `unit-place-${unit}`}
              action={unitPlaceAction}
              hidden={{ reference, seenVersion: String(place.version), ...(unit === undefined ? {} : { unit }) }}
              questions={[
                {
                  name: "to",
                  label: "Where is it?",
                  choices: place.next.map((value) => ({ value, label: custodyWords[value] })),
                },
                { name: "scanned", label: "Scan its serial; nothing where it is missing" },
                {
                  name: "reason",
                  label: "How do you know?",
                  hint: "Where it goes back on the shelf: what was looked at. Box and seal, case, connector, voltage.",
                  kind: "long",
                },
              ]}
              button="Record it"
            />
          </div>
        </details>
      )}
    </>
  );
}
