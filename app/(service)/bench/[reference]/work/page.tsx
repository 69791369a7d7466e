import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { Notice } from "@/app/_components/notice";
import { SerialText } from "@/app/_components/serial-text";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { readWorkPage } from "@/lib/data/bench-tests/work-page";
import { WorkHeading, WorkSection } from "../bench-section";
import { ReleasePart } from "./release-part";
import { WorkForm } from "./work-form";
import { WorkList } from "./work-list";

export const metadata: Metadata = { title: "Repair work" };

interface WorkPageProps {
  readonly params: Promise<{ readonly reference: string }>;
}

export default async function RepairWorkPage({ params }: WorkPageProps) {
  const actor = await requireActor("read-build-record");
  const page = await readWorkPage(actor, (await params).reference);
  if (page === null) notFound();
  const { reference, serialShown, isInWork, isReleased } = page;
  const mayWork = may(actor, "work-on-pack") && isInWork && !isReleased;
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="space-y-6">
        <div>
          <WorkHeading actor={actor} work="Work on the pack of" reference={reference} />
          <p>
            Pack <SerialText>{serialShown}</SerialText>. <Link href={`/bench/${reference}`}>Back to the return</Link>{" "}
            <Link href="/parts">Parts on the shelf</Link>
          </p>
        </div>
        <Notice kind="danger" title="High-energy direct current that cannot be switched off">
          <p>
            Trained people only, insulated tools, no metal on hands or wrists. Hot, swelling, hissing or smelling: leave
            it, warn the others, follow the emergency card. Local rules and the house&rsquo;s own come first.
          </p>
        </Notice>
        <div className="grid gap-x-8 gap-y-10 *:min-w-0 lg:grid-cols-2">
          <div className="space-y-8">
            <WorkSection title="1. What was done">
              <WorkList page={page} mayStrike={mayWork} />
            </WorkSection>
            <ReleasePart page={page} mayRelease={may(actor, "release-pack")} />
          </div>
          {mayWork ? (
            <WorkSection title="Record work">
              <WorkForm reference={reference} />
            </WorkSection>
          ) : (
            <p className="text-soft">
              {isReleased
                ? "The pack is released: nothing more is done to it under this decision."
                : "Work is recorded while the return is in work by a decision to repair the pack."}
            </p>
          )}
        </div>
      </div>
    </HouseFrame>
  );
}
