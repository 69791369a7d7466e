import { ButtonLink } from "@/app/_components/button";
import { LocalTime } from "@/app/_components/local-time";
import { Stamp } from "@/app/_components/status-line";
import { OrdersFold } from "@/app/_packing/orders-fold";
import { PackingPart } from "@/app/_packing/packing-part";
import { RouteNotice } from "@/app/_packing/route-notice";
import type { Packing } from "@/lib/data/transport/packing-check";
import type { TransportView } from "@/lib/data/transport/transport";
import { whyNotSent } from "@/lib/transport/authorisation";
import { transportClassLabels } from "@/lib/transport/transport-class";
import { tickPackingAction } from "./actions";
import { ReturnSection } from "./return-section";

interface SendingPartProps {
  readonly transport: TransportView;
  /** What was done of the packing; null while the pack is not to be packed. */
  readonly packing: Packing | null;
  readonly said: string | null;
  readonly title: string;
}

/** Whether and how the pack may be sent, and what to print for it. Without a printer the reference goes on the box by hand. */
export function SendingPart({ transport, packing, said, title }: SendingPartProps) {
  const { declaration, sending, reference, orders, rules, proposal, leg } = transport;
  const transportClass =
    declaration?.transportClass ?? (proposal.transportClass === "do-not-ship" ? "do-not-ship" : null);
  if (transportClass === null) return null;
  const way = leg === "to-maker" ? "" : `?leg=${leg}`;
  return (
    <ReturnSection title={title}>
      <p>
        <Stamp tone={transportClass === "do-not-ship" ? "danger" : "warn"}>
          {transportClassLabels[transportClass]}
        </Stamp>
      </p>
      <p className="my-2">{rules.rules.meanings[transportClass].text}</p>
      {sending.kind === "may-send" && orders?.kind === "pack" ? (
        <div className="space-y-3">
          <RouteNotice route={orders.route} />
          <p>
            Send it until <LocalTime at={sending.until} />, packed as the packing sheet says (packing instruction{" "}
            {orders.packing.instruction}), by road or sea. Never by air, post or parcel.
          </p>
          <div className="flex flex-wrap gap-3">
            <ButtonLink href={`/print/${reference}/label${way}`}>Label</ButtonLink>
            <ButtonLink weight="second" href={`/print/${reference}/packing-sheet${way}`}>
              Packing sheet
            </ButtonLink>
            {leg === "to-maker" ? (
              <ButtonLink weight="second" href={`/print/${reference}/used-battery-statement`}>
                Statement for a used battery
              </ButtonLink>
            ) : null}
          </div>
          <p className="text-soft">
            No printer here? Open the label and press its button, which notes that you have it; then write {reference}{" "}
            on the box, large, and the marks of the packing sheet.
          </p>
          <OrdersFold orders={orders} emergencyPhone={transport.emergencyPhone} />
          {packing === null ? null : (
            <PackingPart
              reference={reference}
              leg={leg}
              photosAt={`/dealer/returns/${reference}/photos`}
              tick={tickPackingAction}
              packing={packing}
              checklist={orders.checklist}
              declarations={transport.declarations}
              said={said}
            />
          )}
        </div>
      ) : (
        <p className="font-semibold">
          {sending.kind !== "may-send"
            ? whyNotSent(sending.kind === "no-class" ? { kind: "do-not-ship" } : sending)
            : orders?.kind === "no-rules-for-country"
              ? orders.sentence
              : null}
        </p>
      )}
    </ReturnSection>
  );
}
