import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { HouseFrame } from "@/app/_components/house-frame";
import { Stamp } from "@/app/_components/status-line";
import { requireActor } from "@/lib/auth/session";
import { listRevisionIssues } from "@/lib/data/packs/revision-issues";
import { readGroupPage } from "@/lib/data/reliability/group-page";
import { groupNameSchema } from "@/lib/reliability/compare-by";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { GroupHead } from "../group/group-head";
import { GroupParts } from "../group/group-parts";
import { TitledSection } from "../group/titled-section";
import { ChangeList } from "./change-list";
import { IssueList } from "./issue-list";
import { ThresholdList } from "./threshold-list";

interface RevisionPageProps {
  readonly params: Promise<{ readonly revision: string }>;
}

export async function generateMetadata({ params }: RevisionPageProps): Promise<Metadata> {
  const code = groupNameSchema.safeParse((await params).revision);
  return { title: code.success ? `Revision ${code.data}` : "Not found" };
}

export default async function RevisionPage({ params }: RevisionPageProps) {
  const actor = await requireActor("read-reliability");
  const code = groupNameSchema.safeParse((await params).revision);
  if (!code.success) notFound();
  const page = await readGroupPage(actor, civilDateAt(new Date(), "UTC"), { by: "revision", group: code.data });
  const issues = await listRevisionIssues(actor, code.data);
  if (page?.revision == null || issues === null) notFound();
  const { current, introducedOn, changes, modelCode, thresholds } = page.revision;
  return (
    <HouseFrame actor={actor} current="/reliability">
      <div className="space-y-8">
        <div className="space-y-2">
          <GroupHead page={page} />
          <p>
            <Stamp tone="plain">{current ? "Built today" : "No longer built"}</Stamp> Built since{" "}
            <CalendarDay date={introducedOn} />
          </p>
        </div>
        <GroupParts page={page}>
          <TitledSection title="What changed in it, and why">
            <ChangeList changes={changes} />
          </TitledSection>
          <TitledSection title="What is known to be wrong with it">
            <IssueList issues={issues} />
          </TitledSection>
          <TitledSection title="How readings of its model are judged">
            <ThresholdList modelCode={modelCode} thresholds={thresholds} />
          </TitledSection>
        </GroupParts>
      </div>
    </HouseFrame>
  );
}
