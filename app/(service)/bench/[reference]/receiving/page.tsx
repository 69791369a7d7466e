import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { Notice } from "@/app/_components/notice";
import { SerialText } from "@/app/_components/serial-text";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { readReceivedPack } from "@/lib/data/receiving/received-pack";
import { DEFERRAL } from "@/lib/returns/handling-caution";
import { WorkHeading } from "../bench-section";
import { ArrivalPart } from "./arrival-part";
import { FoundPart } from "./found-part";
import { PhotographsPart } from "./photographs-part";
import { QuarantinePart } from "./quarantine-part";

export const metadata: Metadata = { title: "Goods-in" };

interface ReceivingPageProps {
  readonly params: Promise<{ readonly reference: string }>;
  readonly searchParams: Promise<{ readonly said?: string | string[] }>;
}

export default async function ReceivingPage({ params, searchParams }: ReceivingPageProps) {
  const actor = await requireActor("read-build-record");
  const pack = await readReceivedPack(actor, (await params).reference);
  if (pack === null) notFound();
  const mayReceive = may(actor, "receive-pack");
  const { said } = await searchParams;
  return (
    <HouseFrame actor={actor} current="/quarantine">
      <div className="space-y-6">
        <div>
          <WorkHeading actor={actor} work="Goods-in of" reference={pack.reference} />
          <p>
            Expected: {pack.modelName} <SerialText>{pack.serialShown}</SerialText>.{" "}
            <Link href={`/bench/${pack.reference}`}>To the return</Link>
          </p>
        </div>
        <Notice kind="caution" title="Look, smell and listen before you touch; photograph before you open">
          <p>{DEFERRAL} Hot, smoking, hissing: do not unpack. Leave, warn the others, call the emergency number.</p>
        </Notice>
        <div className="grid gap-x-8 gap-y-10 *:min-w-0 lg:grid-cols-3">
          <ArrivalPart pack={pack} mayReceive={mayReceive} />
          <PhotographsPart
            pack={pack}
            mayReceive={mayReceive}
            said={typeof said === "string" ? said.slice(0, 200) : null}
          />
          <FoundPart reference={pack.reference} found={pack.found} mayReceive={mayReceive} />
          <QuarantinePart pack={pack} mayReceive={mayReceive} mayJudge={may(actor, "lower-safety")} />
        </div>
      </div>
    </HouseFrame>
  );
}
