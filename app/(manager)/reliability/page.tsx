import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { DownloadLink } from "@/app/_components/download-link";
import { EmptyState } from "@/app/_components/empty-state";
import { HouseFrame } from "@/app/_components/house-frame";
import { requireActor } from "@/lib/auth/session";
import { readWatch } from "@/lib/data/reliability/watch";
import { comparisonChoiceSchema } from "@/lib/reliability/compare-by";
import { globalSentence } from "@/lib/reliability/comparison-sentences";
import { eachByItsDealerSentence, groupLagsSentence } from "@/lib/reliability/group-lag-sentences";
import { confirmationSentence, heldSentence } from "@/lib/reliability/reporting-lag";
import { COUNTING_RULES_VERSION } from "@/lib/reliability/rule-version";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { CompareForm } from "./compare-form";
import { DelayTable } from "./delay-table";
import { HowToRead } from "./how-to-read";
import { LongUndecidedPart } from "./long-undecided-part";
import { ModelPart } from "./model-part";
import { NoCoverRules } from "./no-cover-rules";
import { RankingPart } from "./ranking-part";
import { WorseCard } from "./worse-card";

export const metadata: Metadata = { title: "Failure rates" };

const linkClass = "inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4";

interface ReliabilityPageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function ReliabilityPage({ searchParams }: ReliabilityPageProps) {
  const actor = await requireActor("read-reliability");
  const choice = comparisonChoiceSchema.parse(await searchParams);
  const page = await readWatch(actor, civilDateAt(new Date(), "UTC"), choice);
  if (page === null) notFound();
  const { lines } = page.chosen;
  const models = [...new Set(lines.flatMap(({ modelNames }) => modelNames))];
  return (
    <HouseFrame actor={actor} current="/reliability">
      <div className="space-y-8">
        <div className="flex flex-wrap items-baseline justify-between gap-x-8 gap-y-2">
          <h1>Which packs fail more?</h1>
          <p className="text-soft">
            All that was told up to <CalendarDay date={page.dataDate} />, rules {COUNTING_RULES_VERSION}
          </p>
        </div>
        <NoCoverRules hasRules={page.hasCoverRules || lines.length === 0} />
        {lines.length === 0 ? (
          <EmptyState title="No revision is on record">
            <p>Once packs of a revision are built and sold, its failure rate stands here.</p>
          </EmptyState>
        ) : (
          <WorseCard page={page} />
        )}
        <LongUndecidedPart all={page.ifFailures} waitedDays={page.waitedDays} />
        <HowToRead />
        <p className="flex flex-wrap gap-x-8">
          <Link href="/reliability/signals" prefetch={false} className={linkClass}>
            Early signals, watched every day
          </Link>
          <Link href="/reliability/forecast" prefetch={false} className={linkClass}>
            Failures to come
          </Link>
        </p>
        <CompareForm choice={choice} />
        <p className="max-w-4xl">
          {globalSentence(page.chosen.choice, page.chosen.global)} {confirmationSentence(page.lag)} {heldSentence}{" "}
          {page.delays === null ? null : groupLagsSentence(page.delays)}{" "}
          {eachByItsDealerSentence(page.chosen.choice.by, page.dealerDelays)}
        </p>
        <DelayTable delays={page.delays} />
        {models.map((modelName) => (
          <ModelPart
            key={modelName}
            modelName={modelName}
            page={page}
            lines={lines.filter((line) => line.modelNames.includes(modelName))}
          />
        ))}
        {lines.length === 0 ? null : <RankingPart choice={choice} ranking={page.chosen.ranking} />}
        {lines.length === 0 ? null : (
          <p>
            <DownloadLink href={`/reliability/export?${new URLSearchParams(choice)}`}>
              These numbers as a table file (CSV)
            </DownloadLink>
          </p>
        )}
      </div>
    </HouseFrame>
  );
}
