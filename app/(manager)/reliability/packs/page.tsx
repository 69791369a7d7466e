import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { CalendarDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import { DownloadLink } from "@/app/_components/download-link";
import { HouseFrame } from "@/app/_components/house-frame";
import { SerialText } from "@/app/_components/serial-text";
import { requireActor } from "@/lib/auth/session";
import { listPacks } from "@/lib/data/list-packs";
import { sayFault } from "@/lib/diagnosis/fault-words";
import { compareByWords } from "@/lib/reliability/compare-by";
import { type ListedPack, packListWords } from "@/lib/reliability/pack-lists";
import { grouped, packsInWords } from "@/lib/reliability/plain-share";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { GroupLink } from "../group-link";
import { packListAddressSchema } from "./pack-list-address";

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
  const { by, group, list } = asked.data;
  const dataDate = civilDateAt(new Date(), "UTC");
  const page = await listPacks(actor, { dataDate, by, within: "model", group }, list, MOST_SHOWN);
  if (page === null) notFound();
  const file = `/reliability/packs/export?${new URLSearchParams(asked.data)}`;
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
          {group}: {packListWords[list]}
        </h1>
        <p className="text-soft">
          {packsInWords(page.total)}, up to <CalendarDay date={dataDate} />
          {page.total > page.packs.length
            ? `; the first ${grouped(page.packs.length)} by age are shown, the file has all`
            : ""}
          .
        </p>
        <DataTable
          caption={`${group}: ${packListWords[list]}`}
          captionHidden
          columns={columns}
          rows={page.packs}
          rowKey={({ serial }) => serial}
          whenEmpty="No pack is in this list today."
        />
        {page.total === 0 ? null : <DownloadLink href={file}>This list as a table file (CSV)</DownloadLink>}
      </div>
    </HouseFrame>
  );
}

const columns: readonly Column<ListedPack>[] = [
  { head: "Serial", cell: ({ serialShown }) => <SerialText>{serialShown}</SerialText> },
  { head: "Model", cell: ({ stratum }) => stratum },
  {
    head: "Watched from, days",
    numeric: true,
    cell: ({ entryDays }) => (entryDays === null ? "" : grouped(entryDays)),
  },
  { head: "Age at the end, days", numeric: true, cell: ({ exitDays }) => (exitDays === null ? "" : grouped(exitDays)) },
  { head: "How it stands", cell: ({ status, detail }) => sayStatus(status, detail) },
  {
    head: "Return",
    cell: ({ reference }) =>
      reference === null ? (
        ""
      ) : (
        <a href={`/bench/${reference}`} className="inline-flex min-h-11 items-center">
          <SerialText>{reference}</SerialText>
        </a>
      ),
  },
];

function sayStatus(status: string, detail: string): string {
  const plain = status.replaceAll("-", " ");
  if (detail === "") return plain;
  return `${plain}: ${sayFault(detail).toLowerCase()}`;
}
