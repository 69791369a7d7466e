import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { DownloadLink } from "@/app/_components/download-link";
import { HouseFrame } from "@/app/_components/house-frame";
import { requireActor } from "@/lib/auth/session";
import { listPacks } from "@/lib/data/reliability/list-packs";
import { compareByWords } from "@/lib/reliability/compare-by";
import { isOfReturns, packListTitle } from "@/lib/reliability/pack-lists";
import { grouped, packsInWords, returnsInWords } from "@/lib/reliability/plain-share";
import { COUNTING_RULES_VERSION } from "@/lib/reliability/rule-version";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { GroupLink } from "../group-link";
import { ListedPackTable } from "./listed-pack-table";
import { packListAddressSchema, packListFileHref } from "./pack-list-address";

export const metadata: Metadata = { title: "Packs behind a number" };

/** So many stand on the page; the file holds all. Engineering default, no authority. */
const MOST_SHOWN = 500;

interface PacksPageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** The packs behind one number: found by the rules that counted them, so that list and number cannot disagree. */
export default async function PacksPage({ searchParams }: PacksPageProps) {
  const actor = await requireActor("read-reliability");
  const asked = packListAddressSchema.safeParse(await searchParams);
  if (!asked.success) notFound();
  const { by, group, list, ...filter } = asked.data;
  const dataDate = civilDateAt(new Date(), "UTC");
  const page = await listPacks(actor, { dataDate, by, within: "model", group, filter }, list, MOST_SHOWN);
  if (page === null) notFound();
  const file = packListFileHref(by, group, list, filter);
  const title = `${group}: ${packListTitle(list, filter)}`;
  return (
    <HouseFrame actor={actor} current="/reliability">
      <div className="space-y-6">
        <p>
          <GroupLink by={by} group={group}>
            {compareByWords[by].name} {group}
          </GroupLink>
        </p>
        <h1>
          <span className="caption-print block">{compareByWords[by].name}</span>
          {title}
        </h1>
        <p className="text-soft">
          {isOfReturns(list) ? returnsInWords(page.total) : packsInWords(page.total)}, up to{" "}
          <CalendarDay date={dataDate} />, rules {COUNTING_RULES_VERSION}
          {page.total > page.packs.length
            ? `; the first ${grouped(page.packs.length)} by age are shown, the file has all`
            : ""}
          .
        </p>
        <ListedPackTable caption={title} packs={page.packs} />
        {page.total === 0 ? null : <DownloadLink href={file}>This list as a table file (CSV)</DownloadLink>}
      </div>
    </HouseFrame>
  );
}
