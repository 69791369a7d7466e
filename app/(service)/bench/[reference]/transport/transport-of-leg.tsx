import Link from "next/link";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { Notice } from "@/app/_components/notice";
import { SerialText } from "@/app/_components/serial-text";
import { PackingPart } from "@/app/_packing/packing-part";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { readPackingOf } from "@/lib/data/transport/packing-check";
import { readTransport, type TransportView } from "@/lib/data/transport/transport";
import { readWaysOf } from "@/lib/data/transport/transport-ways";
import { countryName } from "@/lib/transport/country-name";
import { isInbound, type Leg } from "@/lib/transport/leg";
import { WorkHeading, WorkSection } from "../bench-section";
import { tickOutgoingAction } from "./actions";
import { DeclareForm } from "./declare-form";
import { LegLinks } from "./leg-links";
import { OrdersPart } from "./orders-part";
import { ProposalPart } from "./proposal-part";
import { ProposedPart } from "./proposed-part";
import { SendingPart } from "./sending-part";

interface TransportOfLegProps {
  readonly reference: string;
  readonly leg: Leg;
  /** What came of a photograph just sent. */
  readonly said: string | null;
}

/** What a pack is on one way of its return: proposed, declared, packed, and what is printed for it. */
export async function TransportOfLeg({ reference, leg, said }: TransportOfLegProps) {
  const actor = await requireActor("read-build-record");
  const transport = await readTransport(actor, reference, new Date(), leg);
  if (transport === null) notFound();
  const { sending, orders } = transport;
  const isToBePacked = !isInbound(leg) && sending.kind === "may-send" && orders?.kind === "pack";
  const packing = isToBePacked ? await readPackingOf(actor, transport.reference, leg) : null;
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="space-y-6">
        <div>
          <WorkHeading actor={actor} work="Transport of" reference={transport.reference} />
          <p>
            {transport.isFromStock
              ? `The pack from stock that ${isInbound(leg) ? "was sent" : "goes out"} in its place: `
              : ""}
            <SerialText>{transport.serialShown}</SerialText>, {transport.modelName}, {transport.massKg} kg,{" "}
            {transport.energyWh} Wh; {wayInWords(transport)}.{" "}
            <Link href={`/bench/${transport.reference}`}>Back to the return</Link>
          </p>
          <LegLinks reference={transport.reference} leg={leg} ways={await readWaysOf(actor, transport.reference)} />
        </div>
        <Notice kind="danger" title="No pack goes by air, post or parcel">
          <p>
            What stands here is proposed by rules that belong to {transport.rules.owner}. Local rules, the
            carrier&rsquo;s conditions and people trained for dangerous goods come before it.
          </p>
        </Notice>
        {transport.unitIsMissing && leg === "unit-to-maker" ? (
          <Notice kind="info" title="No replacement is at the dealer's, so none comes back">
            <p>Its class is declared here once it arrived there and is to come back.</p>
          </Notice>
        ) : transport.unitIsMissing ? (
          <Notice kind="info" title="Another pack goes out in its place, and none is kept yet">
            <p>
              Keep one on the page of <Link href={`/bench/${transport.reference}/remedy`}>remedy and notices</Link>; its
              class is declared then.
            </p>
          </Notice>
        ) : null}
        {transport.frozenBecause.length === 0 ? null : (
          <Notice kind="danger" title="This pack is held as evidence">
            {transport.frozenBecause.map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
          </Notice>
        )}
        {transport.unitIsMissing ? null : (
          <div className="grid gap-x-8 gap-y-10 *:min-w-0 lg:grid-cols-2">
            <div className="space-y-8">
              <ProposalPart proposal={transport.proposal} rules={transport.rules} />
              {transport.waiting === null ? null : (
                <ProposedPart waiting={transport.waiting} isOwn={transport.waiting.proposedByUserId === actor.userId} />
              )}
              {may(actor, "set-transport-class") && transport.waiting?.proposedByUserId !== actor.userId ? (
                <WorkSection title="Declare the class">
                  <DeclareForm transport={transport} mayDeclare />
                </WorkSection>
              ) : may(actor, "propose-transport-class") ? (
                <WorkSection title="Propose the class">
                  <p>
                    A proposal is no permission: the service lead, a manager or the safety officer declares the class.
                  </p>
                  <DeclareForm transport={transport} mayDeclare={false} />
                </WorkSection>
              ) : null}
            </div>
            <div className="space-y-8">
              <SendingPart
                transport={transport}
                mayRevive={may(actor, "approve-return") || may(actor, "set-transport-class")}
              />
              {packing === null || orders?.kind !== "pack" ? null : (
                <PackingPart
                  reference={transport.reference}
                  leg={leg}
                  photosAt={`/bench/${transport.reference}/photos`}
                  tick={tickOutgoingAction}
                  packing={packing}
                  checklist={orders.checklist}
                  declarations={transport.declarations}
                  said={said}
                />
              )}
              <OrdersPart orders={orders} emergencyPhone={transport.emergencyPhone} />
            </div>
          </div>
        )}
      </div>
    </HouseFrame>
  );
}

function wayInWords({ leg, dealer, consignee }: TransportView): string {
  const place = `${dealer.name}, ${dealer.town} (${countryName(dealer.country)})`;
  if (isInbound(leg)) return `from ${place} to us`;
  return leg === "to-dealer" ? `from us to ${place}` : `from us to ${consignee ?? "a supplier"}`;
}
