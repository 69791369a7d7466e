import { QuestionForm } from "@/app/_components/question-form";
import { SerialText } from "@/app/_components/serial-text";
import { unitPlaceAction } from "@/app/_remedy/actions";
import type { Actor } from "@/lib/access/actor";
import { readRemedyView } from "@/lib/data/remedies/remedy-view";
import { readPackingOf } from "@/lib/data/transport/packing-check";
import { isToBePacked, readTransport } from "@/lib/data/transport/transport";
import { ReturnSection } from "./return-section";
import { SendingPart } from "./sending-part";

interface UnitBackPartProps {
  readonly actor: Actor;
  readonly reference: string;
  /** What came of a photograph just sent. */
  readonly said: string | null;
}

/** The pack that was sent in place of the returned one and goes back to us, once its class is declared for that way. */
export async function UnitBackPart({ actor, reference, said }: UnitBackPartProps) {
  const leg = "unit-to-maker";
  const transport = await readTransport(actor, reference, new Date(), leg);
  if (transport === null || transport.unitIsMissing || transport.declaration === null) return null;
  const isPacked = isToBePacked(transport);
  const packing = isPacked ? await readPackingOf(actor, reference, leg) : null;
  const place = (await readRemedyView(actor, reference))?.kept?.place ?? null;
  return (
    <>
      <SendingPart transport={transport} packing={packing} said={said} title="Sending the replacement back" />
      {isPacked && (place === null || place.next.includes("with-carrier-in")) ? (
        <ReturnSection title="The replacement leaves you">
          <p className="mb-3">
            <SerialText>{transport.serialShown}</SerialText>: nobody rides, charges or opens it any more. Warm, swollen,
            smelling or hissing, it is not packed: keep away and call us.
          </p>
          {place === null ? (
            // Given up before it turned up, it is kept for nobody, and its place is the house's to record.
            <p>Tell us which carrier took it, and when: we write it down.</p>
          ) : (
            <QuestionForm
              id="unit-back"
              action={unitPlaceAction}
              hidden={{ reference, to: "with-carrier-in", seenVersion: String(place.version) }}
              questions={[
                { name: "scanned", label: "Scan or type its serial" },
                { name: "reason", label: "Which carrier took it, and when?" },
              ]}
              button="Handed to the carrier"
            />
          )}
        </ReturnSection>
      ) : null}
    </>
  );
}
