import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { z } from "zod";
import { CalendarDay } from "@/app/_components/calendar-day";
import { SurvivalChart } from "@/app/_components/charts/survival-chart";
import { HouseFrame } from "@/app/_components/house-frame";
import { Stamp } from "@/app/_components/status-line";
import { requireActor } from "@/lib/auth/session";
import { readGroupLife } from "@/lib/data/group-life";
import { readReliability } from "@/lib/data/reliability";
import { listRevisionFailures } from "@/lib/data/revision-failures";
import { listRevisionIssues } from "@/lib/data/revision-issues";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { ChangeList } from "./change-list";
import { CountsPart } from "./counts-part";
import { FailedPackTable } from "./failed-pack-table";
import { IssueList } from "./issue-list";
import { LifePart } from "./life-part";
import { PointTable } from "./point-table";
import { RevisionSection } from "./revision-section";
import { WeibullPart } from "./weibull-part";

interface RevisionPageProps {
  readonly params: Promise<{ readonly revision: string }>;
}

const codeSchema = z.string().max(40);

export async function generateMetadata({ params }: RevisionPageProps): Promise<Metadata> {
  const code = codeSchema.safeParse((await params).revision);
  return { title: code.success ? `Revision ${code.data}` : "Not found" };
}

export default async function RevisionPage({ params }: RevisionPageProps) {
  const actor = await requireActor("read-reliability");
  const code = codeSchema.safeParse((await params).revision);
  if (!code.success) notFound();
  const today = civilDateAt(new Date(), "UTC");
  const reliability = await readReliability(actor, today);
  const line = reliability?.lines.find(({ group }) => group === code.data);
  const failures = await listRevisionFailures(actor, code.data, today);
  const issues = await listRevisionIssues(actor, code.data);
  const life = await readGroupLife(actor, today, { by: "revision", group: code.data });
  if (line === undefined || failures === null || issues === null || life === null) notFound();
  return (
    <HouseFrame actor={actor} current="/reliability">
      <div className="space-y-8">
        <div className="space-y-2">
          <p>
            <Link
              href="/reliability"
              className="inline-flex min-h-11 items-center text-accent underline underline-offset-4"
            >
              All revisions
            </Link>
          </p>
          <div className="flex flex-wrap items-baseline justify-between gap-x-8 gap-y-2">
            <h1>
              <span className="caption-print block">{line.modelName}, revision</span>
              {line.group}
            </h1>
            <p className="text-soft">
              All that was told up to <CalendarDay date={today} />
            </p>
          </div>
          <p>
            <Stamp tone={line.current ? "good" : "plain"}>{line.current ? "Built today" : "No longer built"}</Stamp>{" "}
            Built since <CalendarDay date={line.introducedOn} />
          </p>
          <p className="max-w-4xl text-xl font-semibold leading-snug">{line.sentence}</p>
        </div>
        <div className="grid gap-x-8 gap-y-8 xl:grid-cols-[minmax(0,3fr)_minmax(0,2fr)]">
          <RevisionSection title="Share failed by age">
            <SurvivalChart
              id="revision-curve"
              title={`Revision ${line.group}: share of packs failed by age, up to ${today}`}
              reports={[line]}
              highlighted={[line.group]}
            />
            <PointTable line={line} dataDate={today} />
          </RevisionSection>
          <div className="space-y-8">
            <RevisionSection title="What changed in it, and why">
              <ChangeList changes={line.changes} />
            </RevisionSection>
            <RevisionSection title="What is known to be wrong with it">
              <IssueList issues={issues} />
            </RevisionSection>
            <RevisionSection title="What is counted and what is not">
              <CountsPart line={line} />
            </RevisionSection>
          </div>
        </div>
        <RevisionSection title="Which faults, and by what law">
          <LifePart life={life} />
        </RevisionSection>
        <RevisionSection title="Does one law hold for all its failures?">
          <WeibullPart plot={life.plot} group={line.group} />
        </RevisionSection>
        <RevisionSection title="The packs behind the number">
          <FailedPackTable failures={failures} code={line.group} dataDate={today} />
        </RevisionSection>
      </div>
    </HouseFrame>
  );
}
