import { ButtonLink } from "@/app/_components/button";
import { LocalTime } from "@/app/_components/local-time";
import { Stamp } from "@/app/_components/status-line";
import type { TransportView } from "@/lib/data/transport";
import { whyNotSent } from "@/lib/transport/authorisation";
import { transportClassLabels } from "@/lib/transport/transport-class";
import { ReturnSection } from "./return-section";

/** Whether and how the pack may be sent, and what to print for it. Without a printer the reference goes on the box by hand. */
export function SendingPart({ transport }: { transport: TransportView }) {
  const { declaration, sending, reference, orders, rules } = transport;
  if (declaration === null) return null;
  const { transportClass } = declaration;
  return (
    <ReturnSection title="Sending the pack">
      <p>
        <Stamp tone={transportClass === "do-not-ship" ? "danger" : "warn"}>
          {transportClassLabels[transportClass]}
        </Stamp>
      </p>
      <p>{rules.rules.meanings[transportClass].text}</p>
      {sending.kind === "may-send" && orders?.kind === "pack" ? (
        <>
          <p>
            Send it until <LocalTime at={sending.until} />, packed by {orders.packing.instruction}, by road or sea.
            Never by air, post or parcel.
          </p>
          <div className="flex flex-wrap gap-3">
            <ButtonLink href={`/print/${reference}/label`}>Label</ButtonLink>
            <ButtonLink weight="second" href={`/print/${reference}/packing-sheet`}>
              Packing sheet
            </ButtonLink>
            <ButtonLink weight="second" href={`/print/${reference}/used-battery-statement`}>
              Statement for a used battery
            </ButtonLink>
          </div>
          <p className="text-soft">
            No printer here? Write {reference} on the box, large, and the marks of the packing sheet.
          </p>
        </>
      ) : (
        <p className="font-semibold">
          {sending.kind !== "may-send"
            ? whyNotSent(sending)
            : orders?.kind === "no-rules-for-country"
              ? orders.sentence
              : null}
        </p>
      )}
    </ReturnSection>
  );
}
