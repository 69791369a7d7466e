import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { affectedFileHref } from "@/app/_affected/affected-address";
import { AffectedTable, CountryTable } from "@/app/_affected/affected-tables";
import { CalendarDay } from "@/app/_components/calendar-day";
import { DownloadLink } from "@/app/_components/download-link";
import { HouseFrame } from "@/app/_components/house-frame";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { findAffectedPacks } from "@/lib/data/safety/affected-packs";
import { affectedDefinitionSchema, affectedSentence } from "@/lib/reliability/affected-packs";
import { compareByWords } from "@/lib/reliability/compare-by";
import { grouped } from "@/lib/reliability/plain-share";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { GroupLink } from "../group-link";
import { BeginSet } from "./begin-set";
import { RangeForm } from "./range-form";

export const metadata: Metadata = { title: "Packs concerned" };

/** So many stand on the page; the file holds all. Engineering default, no authority. */
const MOST_SHOWN = 200;

interface AffectedPageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

/** Which packs share a cause today, where each of them is, and which can still be held back. */
export default async function AffectedPage({ searchParams }: AffectedPageProps) {
  const actor = await requireActor("propose-affected-set");
  const asked = affectedDefinitionSchema.safeParse(await searchParams);
  if (!asked.success) notFound();
  const { by, group } = asked.data;
  const found = await findAffectedPacks(actor, asked.data);
  if (found === null) notFound();
  const name = `${compareByWords[by].name} ${group}`;
  return (
    <HouseFrame actor={actor} {...(may(actor, "read-reliability") && { current: "/reliability" as const })}>
      <div className="space-y-6">
        {may(actor, "read-reliability") ? (
          <p>
            <GroupLink by={by} group={group}>
              {name}
            </GroupLink>
          </p>
        ) : null}
        <div className="flex flex-wrap items-baseline justify-between gap-x-8 gap-y-2">
          <h1>
            <span className="caption-print block">{name}</span>
            Packs concerned
          </h1>
          <p className="text-soft">
            As they are built and maintained on <CalendarDay date={civilDateAt(new Date(), "UTC")} />
          </p>
        </div>
        {found.kind === "packs" ? (
          <p className="max-w-4xl text-xl font-semibold leading-snug">
            {affectedSentence(found.packs, found.takenOut)}
          </p>
        ) : null}
        <RangeForm definition={asked.data} problem={found.kind === "not-a-serial" ? found : null} />
        {found.kind === "packs" && found.packs.length > 0 ? (
          <>
            <CountryTable packs={found.packs} />
            <p className="max-w-4xl">
              This list alone stops nothing and tells nobody. Whether packs are held back, called back or looked at is
              decided by a manager or the safety officer; a fault that can hurt somebody goes to the safety officer at
              once, and a call-back is subject to the law of each country named above.
            </p>
            {found.packs.length > MOST_SHOWN ? (
              <p className="text-soft">
                The first {grouped(MOST_SHOWN)} are shown, the file has all {grouped(found.packs.length)}.
              </p>
            ) : null}
            <BeginSet actor={actor} definition={asked.data} />
            <AffectedTable packs={found.packs.slice(0, MOST_SHOWN)} />
            <DownloadLink href={affectedFileHref(asked.data)}>All of them as a table file (CSV)</DownloadLink>
          </>
        ) : null}
      </div>
    </HouseFrame>
  );
}
