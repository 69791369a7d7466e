import Link from "next/link";
import { LocalTime } from "@/app/_components/local-time";
import { QuestionForm } from "@/app/_components/question-form";
import { SerialText } from "@/app/_components/serial-text";
import { giveUnitUpAction, keepUnitAction } from "@/app/_remedy/actions";
import type { RemedyView } from "@/lib/data/remedies/remedy-view";
import { custodyWords } from "@/lib/returns/custody-track";
import { mayKeepUnit } from "@/lib/returns/what-to-show";
import { WorkSection } from "../bench-section";
import { UnitPlacePart } from "./unit-place-part";

/** The pack from stock that goes out instead: one pack for one return, and only one that may go. */
export function UnitPart({ remedy, mayKeep }: { remedy: RemedyView; mayKeep: boolean }) {
  const { reference, kept, givenUnit, leftAway, unitStop, inStore, decision } = remedy;
  const isDecided = decision?.remedy === "replace";
  // What was given or kept before stays in sight whatever is decided since.
  if (!isDecided && kept === null && givenUnit === null && leftAway.length === 0) return null;
  const isKeepable = isDecided && mayKeepUnit(remedy.status);
  return (
    <WorkSection title="The pack that goes out instead">
      {givenUnit === null ? null : (
        <p>
          <SerialText>{givenUnit.serialShown}</SerialText> was handed over in its place, <LocalTime at={givenUnit.at} />
          , {givenUnit.byName}.{" "}
          {givenUnit.place === null ? null : `Last known: ${custodyWords[givenUnit.place].toLowerCase()}. `}
          {givenUnit.ownReturn === null ? (
            "If it is to come back, the dealer lodges a return of it."
          ) : (
            <>
              It has a return of its own: <Link href={`/bench/${givenUnit.ownReturn}`}>{givenUnit.ownReturn}</Link>.
            </>
          )}
        </p>
      )}
      {kept === null ? (
        givenUnit !== null && !isKeepable ? null : (
          <p>{isKeepable ? "No pack is kept for this return yet." : "No pack is kept for this return."}</p>
        )
      ) : (
        <p>
          <SerialText>{kept.serialShown}</SerialText> is kept since <LocalTime at={kept.reservedAt} /> by{" "}
          {kept.reservedByName}.{" "}
          {isDecided ? null : "Something else is decided or looked at now, so it has to come back."}
        </p>
      )}
      {unitStop === null ? null : <p className="font-semibold text-danger">{unitStop}</p>}
      {mayKeep && kept === null && isKeepable ? (
        <>
          {inStore.length === 0 ? (
            <p className="font-semibold text-warn">
              No pack of revision {decision.revisionCode} in the store is free to go out.
            </p>
          ) : (
            <>
              <p>Free in the store, oldest first:</p>
              <ul id="unit-serial-choices" className="flex flex-wrap gap-x-5 gap-y-1">
                {inStore.map(({ serialShown }) => (
                  <li key={serialShown}>
                    <SerialText>{serialShown}</SerialText>
                  </li>
                ))}
              </ul>
            </>
          )}
          <QuestionForm
            id="unit"
            action={keepUnitAction}
            hidden={{ reference }}
            questions={[{ name: "serial", label: "Scan or type the serial of the pack to keep" }]}
            button="Keep this pack"
          />
        </>
      ) : null}
      {kept === null || kept.place === null ? null : <UnitPlacePart reference={reference} place={kept.place} />}
      {leftAway.map(({ serial, serialShown, place }) => (
        <div key={serial} className="flex flex-col gap-2">
          <p>
            <SerialText>{serialShown}</SerialText> was given up before it was back in the store. It is followed here
            until it is.
          </p>
          <UnitPlacePart reference={reference} place={place} unit={serial} />
        </div>
      ))}
      {mayKeep && kept !== null ? (
        <details className="card">
          <summary className="min-h-11 cursor-pointer px-3 py-2.5 font-semibold">Give this pack up again</summary>
          <div className="border-t border-rule p-3">
            <QuestionForm
              id="give-up"
              action={giveUnitUpAction}
              hidden={{ reference }}
              questions={[{ name: "because", label: "Why?" }]}
              button="Give it up"
            />
          </div>
        </details>
      ) : null}
    </WorkSection>
  );
}
