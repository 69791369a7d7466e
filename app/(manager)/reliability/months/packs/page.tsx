import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { DownloadLink } from "@/app/_components/download-link";
import { HouseFrame } from "@/app/_components/house-frame";
import { requireActor } from "@/lib/auth/session";
import { listMonthPacks } from "@/lib/data/reliability/month-triangle";
import { compareByWords } from "@/lib/reliability/compare-by";
import { grouped, packsInWords } from "@/lib/reliability/plain-share";
import { COUNTING_RULES_VERSION } from "@/lib/reliability/rule-version";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { ListedPackTable } from "../../packs/listed-pack-table";
import { monthCellAddressSchema, monthCellFileHref, monthCellTitle, monthsHref } from "../month-cell-address";

export const metadata: Metadata = { title: "Packs of one cell" };

/** So many stand on the page, the file holds all: a month of sale of a country may have more. Engineering default, no authority. */
const MOST_SHOWN = 2000;

interface MonthPacksPageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** The packs sold in one month that were at risk in one month of their life, those that failed in it first. */
export default async function MonthPacksPage({ searchParams }: MonthPacksPageProps) {
  const actor = await requireActor("read-reliability");
  const asked = monthCellAddressSchema.safeParse(await searchParams);
  if (!asked.success) notFound();
  const { by, group, model } = asked.data;
  const dataDate = civilDateAt(new Date(), "UTC");
  const packs = await listMonthPacks(actor, dataDate, asked.data);
  if (packs === null) notFound();
  const title = `${group}: ${monthCellTitle(asked.data)}`;
  return (
    <HouseFrame actor={actor} current="/reliability">
      <div className="space-y-6">
        <p>
          <Link
            href={monthsHref({ by, group, model })}
            className="inline-flex min-h-11 items-center text-accent underline underline-offset-4"
          >
            All months of sale
          </Link>
        </p>
        <h1>
          <span className="caption-print block">{compareByWords[by].name}</span>
          {title}
        </h1>
        <p className="text-soft">
          {packsInWords(packs.length)}
          {asked.data.only !== undefined
            ? ""
            : asked.data.month === undefined
              ? " in use and watched, those that failed first"
              : " at risk, those that failed in this month of their life first"}
          ; up to <CalendarDay date={dataDate} />, rules {COUNTING_RULES_VERSION}.
        </p>
        {packs.length > MOST_SHOWN ? (
          <p className="text-soft">
            The first {grouped(MOST_SHOWN)} are shown, the file has all {grouped(packs.length)}.
          </p>
        ) : null}
        <ListedPackTable caption={title} packs={packs.slice(0, MOST_SHOWN)} />
        {packs.length === 0 ? null : (
          <DownloadLink href={monthCellFileHref(asked.data)}>This list as a table file (CSV)</DownloadLink>
        )}
      </div>
    </HouseFrame>
  );
}
