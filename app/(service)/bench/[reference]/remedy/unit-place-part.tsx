import { type FormQuestion, QuestionForm } from "@/app/_components/question-form";
import { unitPlaceAction } from "@/app/_remedy/actions";
import type { UnitPlace } from "@/lib/data/remedies/remedy-view";
import { boxConditionLabels, boxConditions, handSignLabels, handSigns } from "@/lib/receiving/arrival.schema";
import { noSign } from "@/lib/receiving/unit-back";
import { custodyWords } from "@/lib/returns/custody-track";

const back = "Where it came back: how it looks, and what was measured";

const lookedAt: readonly FormQuestion[] = [
  {
    name: "boxCondition",
    section: back,
    label: "How does the box look?",
    choices: [
      { value: "", label: "Choose" },
      ...boxConditions.map((value) => ({ value, label: boxConditionLabels[value] })),
    ],
  },
  {
    name: "sign",
    section: back,
    label: "What do you see, smell or hear?",
    hint: "The gravest of them. Any sign sets it apart and calls the safety officer; keep away from what is warm, smokes or hisses.",
    choices: [
      { value: "", label: "Choose" },
      { value: noSign, label: "None of these" },
      ...handSigns.map((value) => ({ value, label: handSignLabels[value] })),
    ],
  },
];

const measuredAt: readonly FormQuestion[] = [
  { name: "surfaceC", section: back, label: "Surface temperature in °C", kind: "decimal" },
  { name: "ambientC", section: back, label: "Temperature of the room in °C", kind: "decimal" },
  {
    name: "terminalV",
    section: back,
    label: "Voltage at the terminals in V",
    hint: "Measured by somebody who is trained for it, by your local rules. Leave it empty where it is not safe to connect.",
    kind: "decimal",
  },
  { name: "noVoltageBecause", section: back, label: "Why it was not safe to measure the voltage" },
];

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
                ...(place.next.includes("quarantine") ? lookedAt : []),
                ...(place.next.some((to) => to === "quarantine" || to === "store") ? measuredAt : []),
              ]}
              button="Record it"
            />
          </div>
        </details>
      )}
    </>
  );
}
