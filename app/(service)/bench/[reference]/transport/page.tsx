import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { Notice } from "@/app/_components/notice";
import { SerialText } from "@/app/_components/serial-text";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { readTransport } from "@/lib/data/transport";
import { countryName } from "@/lib/transport/country-name";
import { BenchSection } from "../bench-section";
import { DeclareForm } from "./declare-form";
import { OrdersPart } from "./orders-part";
import { ProposalPart } from "./proposal-part";
import { SendingPart } from "./sending-part";

export const metadata: Metadata = { title: "Transport" };

interface TransportPageProps {
  readonly params: Promise<{ readonly reference: string }>;
}

export default async function TransportPage({ params }: TransportPageProps) {
  const actor = await requireActor("read-build-record");
  const transport = await readTransport(actor, (await params).reference);
  if (transport === null) notFound();
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="space-y-6">
        <div>
          <h1>
            <span className="caption-print block">Transport of</span>
            <SerialText large>{transport.reference}</SerialText>
          </h1>
          <p>
            {transport.modelName}, {transport.massKg} kg, {transport.energyWh} Wh; from {transport.dealer.town} (
            {countryName(transport.dealer.country)}).{" "}
            <Link href={`/bench/${transport.reference}`}>Back to the return</Link>
          </p>
        </div>
        <Notice kind="danger" title="No returned pack goes by air, post or parcel">
          <p>
            What stands here is proposed by rules that belong to {transport.rules.owner}. Local rules, the
            carrier&rsquo;s conditions and people trained for dangerous goods come before it.
          </p>
        </Notice>
        {transport.frozenBecause.length === 0 ? null : (
          <Notice kind="danger" title="This pack is held as evidence">
            {transport.frozenBecause.map((sentence) => (
              <p key={sentence}>{sentence}</p>
            ))}
          </Notice>
        )}
        <div className="grid gap-x-8 gap-y-10 *:min-w-0 lg:grid-cols-2">
          <div className="space-y-8">
            <ProposalPart proposal={transport.proposal} rules={transport.rules} />
            {may(actor, "set-transport-class") ? (
              <BenchSection title="Declare the class">
                <DeclareForm transport={transport} />
              </BenchSection>
            ) : (
              <p className="text-soft">The service lead, a manager or the safety officer declares the class.</p>
            )}
          </div>
          <div className="space-y-8">
            <SendingPart
              transport={transport}
              mayRevive={may(actor, "approve-return") || may(actor, "set-transport-class")}
            />
            <OrdersPart orders={transport.orders} />
          </div>
        </div>
      </div>
    </HouseFrame>
  );
}
