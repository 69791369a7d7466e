import { Download } from "lucide-react";
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { EmptyState } from "@/app/_components/empty-state";
import { HouseFrame } from "@/app/_components/house-frame";
import { requireActor } from "@/lib/auth/session";
import { readReliability } from "@/lib/data/reliability";
import { whatStandsOut } from "@/lib/reliability/what-stands-out";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { AnswerCard } from "./answer-card";
import { HowToRead } from "./how-to-read";
import { ModelPart } from "./model-part";

export const metadata: Metadata = { title: "Failure rates" };

export default async function ReliabilityPage() {
  const actor = await requireActor("read-reliability");
  const page = await readReliability(actor, civilDateAt(new Date(), "UTC"));
  if (page === null) notFound();
  const answer = whatStandsOut(page.lines);
  const models = [...new Set(page.lines.map(({ modelName }) => modelName))];
  return (
    <HouseFrame actor={actor} current="/reliability">
      <div className="space-y-8">
        <div className="flex flex-wrap items-baseline justify-between gap-x-8 gap-y-2">
          <h1>Which build revision fails more?</h1>
          <p className="text-soft">
            All that was told up to <CalendarDay date={page.dataDate} />
          </p>
        </div>
        {page.lines.length === 0 ? (
          <EmptyState title="No revision is on record">
            <p>Once packs of a revision are built and sold, its failure rate stands here.</p>
          </EmptyState>
        ) : (
          <AnswerCard answer={answer} />
        )}
        <HowToRead />
        {models.map((modelName) => (
          <ModelPart
            key={modelName}
            modelName={modelName}
            dataDate={page.dataDate}
            lines={page.lines.filter((line) => line.modelName === modelName)}
            answer={answer}
          />
        ))}
        {page.lines.length === 0 ? null : (
          <p>
            <a
              href="/reliability/export"
              download
              className="inline-flex min-h-11 items-center gap-2 font-semibold text-accent underline underline-offset-4"
            >
              <Download aria-hidden size={18} />
              These numbers as a table file (CSV)
            </a>
          </p>
        )}
      </div>
    </HouseFrame>
  );
}
