import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { ComesBackPart } from "@/app/_comes-back/order-part";
import { HouseFrame } from "@/app/_components/house-frame";
import { OrderPart } from "@/app/_old-pack/order-part";
import { LoanPart } from "@/app/_remedy/loan-part";
import { NoticePart } from "@/app/_remedy/notice-part";
import { RemedySteps } from "@/app/_remedy/remedy-steps";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { readComesBackPage } from "@/lib/data/remedies/comes-back";
import { readOldPack } from "@/lib/data/remedies/old-pack";
import { readRemedyView } from "@/lib/data/remedies/remedy-view";
import { readHeldBackPack } from "@/lib/data/safety/let-pack-go";
import { returnStatusWords } from "@/lib/returns/return-status";
import { WorkHeading, WorkSection } from "../bench-section";
import { HeldBackPart } from "./held-back-part";
import { PromisedPart } from "./promised-part";
import { UnitPart } from "./unit-part";

export const metadata: Metadata = { title: "Remedy" };

interface RemedyPageProps {
  readonly params: Promise<{ readonly reference: string }>;
}

/** Also for finance, who records that a refund is paid; nothing of how a pack is built stands here. */
export default async function RemedyPage({ params }: RemedyPageProps) {
  const actor = await requireActor("read-build-record", "read-cases-for-money");
  const remedy = await readRemedyView(actor, (await params).reference);
  if (remedy === null) notFound();
  const { reference, status } = remedy;
  const old = may(actor, "read-queue") ? await readOldPack(actor, reference) : null;
  const comesBack = await readComesBackPage(actor, reference);
  const heldBack = await readHeldBackPack(actor, reference);
  const mayWork = may(actor, "work-on-pack");
  const seesBench = may(actor, "read-build-record");
  return (
    <HouseFrame actor={actor} current={seesBench ? "/bench" : "/money"}>
      <div className="space-y-6">
        <div>
          <WorkHeading actor={actor} work="Remedy of" reference={reference} />
          <p>
            {returnStatusWords(status)}.{" "}
            {seesBench ? <Link href={`/bench/${reference}`}>Back to the return</Link> : null}
          </p>
        </div>
        <div className="grid gap-x-8 gap-y-10 *:min-w-0 lg:grid-cols-2">
          <div className="space-y-8">
            <PromisedPart remedy={remedy} seesBench={seesBench} />
            <WorkSection title="What the customer was promised and has received">
              <RemedySteps remedy={remedy} />
            </WorkSection>
          </div>
          <div className="space-y-8">
            {heldBack === null ? null : <HeldBackPart reference={reference} heldBack={heldBack} />}
            <WorkSection title="To be shown before the remedy">
              <NoticePart remedy={remedy} mayRecord={may(actor, "answer-question") && remedy.isOpen} />
            </WorkSection>
            {comesBack === null ? null : (
              <WorkSection title="What the customer gives back">
                <ComesBackPart reference={reference} page={comesBack} />
              </WorkSection>
            )}
            {old === null ? null : (
              <WorkSection title="The old pack">
                <OrderPart reference={reference} old={old} mayOrder={may(actor, "approve-return")} />
              </WorkSection>
            )}
            {seesBench ? <UnitPart remedy={remedy} mayKeep={mayWork} /> : null}
            <WorkSection title="Pack lent meanwhile">
              <LoanPart remedy={remedy} mayLend={mayWork} />
            </WorkSection>
          </div>
        </div>
      </div>
    </HouseFrame>
  );
}
