import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { CalendarDay, writtenDay } from "@/app/_components/calendar-day";
import { MonthGrid } from "@/app/_components/charts/month-grid";
import { DownloadLink } from "@/app/_components/download-link";
import { EmptyState } from "@/app/_components/empty-state";
import { HouseFrame } from "@/app/_components/house-frame";
import type { Actor } from "@/lib/access/actor";
import { requireActor } from "@/lib/auth/session";
import { listRevisionsByModel, readMonthTriangle } from "@/lib/data/reliability/month-triangle";
import { compareByWords } from "@/lib/reliability/compare-by";
import { howToReadTriangle, saleMonthSentence, settledSentence } from "@/lib/reliability/month-triangle-words";
import { COUNTING_RULES_VERSION } from "@/lib/reliability/rule-version";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { GroupLink } from "../group-link";
import { ChooseGroup } from "./choose-group";
import { ModelChoice } from "./model-choice";
import { monthCellHref, monthsAddressSchema, monthsHref } from "./month-cell-address";
import { MonthTable } from "./month-table";
import { UnknownGroup } from "./unknown-group";

export const metadata: Metadata = { title: "By month of sale" };

interface MonthsPageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

async function ChoicePage({ actor }: { readonly actor: Actor }) {
  const models = await listRevisionsByModel(actor);
  if (models === null) notFound();
  return (
    <HouseFrame actor={actor} current="/reliability">
      <div className="space-y-6">
        <p>
          <Link
            href="/reliability"
            className="inline-flex min-h-11 items-center text-accent underline underline-offset-4"
          >
            Failure rates
          </Link>
        </p>
        <h1>By month of sale</h1>
        <ChooseGroup models={models} />
      </div>
    </HouseFrame>
  );
}

/** Failures of one group by month of sale and month in service, and which of that is settled. */
export default async function MonthsPage({ searchParams }: MonthsPageProps) {
  const actor = await requireActor("read-reliability");
  const address = await searchParams;
  if (address.group === undefined) return <ChoicePage actor={actor} />;
  const asked = monthsAddressSchema.safeParse(address);
  if (!asked.success) notFound();
  const { by, group } = asked.data;
  const page = await readMonthTriangle(actor, civilDateAt(new Date(), "UTC"), asked.data);
  if (page === null) notFound();
  const { triangle, dataDate, lag, isKnown, models } = page;
  return (
    <HouseFrame actor={actor} current="/reliability">
      <div className="space-y-6">
        <p>
          {isKnown ? (
            <GroupLink by={by} group={group}>
              {compareByWords[by].name} {group}
            </GroupLink>
          ) : (
            <Link
              href="/reliability"
              className="inline-flex min-h-11 items-center text-accent underline underline-offset-4"
            >
              Failure rates
            </Link>
          )}
        </p>
        <div className="flex flex-wrap items-baseline justify-between gap-x-8 gap-y-2">
          <h1>
            <span className="caption-print block">
              {compareByWords[by].name} {group}
            </span>
            By month of sale
          </h1>
          <p className="text-soft">
            All that was told up to <CalendarDay date={dataDate} />, rules {COUNTING_RULES_VERSION}
          </p>
        </div>
        {!isKnown ? (
          <UnknownGroup by={by} group={group} />
        ) : triangle.rows.length === 0 ? (
          <EmptyState title="No pack of it has been in use yet">
            <p>Once packs are sold, each month of sale has a row here.</p>
          </EmptyState>
        ) : (
          <>
            <p className="max-w-4xl text-xl font-semibold leading-snug">{saleMonthSentence(triangle)}</p>
            <ModelChoice asked={asked.data} models={models} />
            <MonthGrid
              id="months"
              title={`${group}: confirmed failures by month of sale and month in service, up to ${writtenDay(dataDate)}`}
              description={saleMonthSentence(triangle)}
              caption={howToReadTriangle}
              triangle={triangle}
              hrefOf={({ soldIn, month }) => monthCellHref({ ...asked.data, soldIn, month })}
            />
            <p className="max-w-4xl text-soft">{settledSentence(lag, triangle)}</p>
            <MonthTable asked={asked.data} triangle={triangle} dataDate={dataDate} />
            <p>
              <DownloadLink href={monthsHref(asked.data, "cells")}>Every cell as a table file (CSV)</DownloadLink>
            </p>
            <p>
              <DownloadLink href={monthsHref(asked.data, "comparison")}>
                Each month of sale against the others as a table file (CSV)
              </DownloadLink>
            </p>
          </>
        )}
      </div>
    </HouseFrame>
  );
}
