import type { Metadata } from "next";
import { notFound, redirect } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { requireActor } from "@/lib/auth/session";
import { readGroupPage } from "@/lib/data/reliability/group-page";
import { compareByWords } from "@/lib/reliability/compare-by";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { groupAddressSchema, groupHref } from "./group-address";
import { GroupHead } from "./group-head";
import { GroupParts } from "./group-parts";

interface GroupPageProps {
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export async function generateMetadata({ searchParams }: GroupPageProps): Promise<Metadata> {
  const asked = groupAddressSchema.safeParse(await searchParams);
  return { title: asked.success ? `${compareByWords[asked.data.by].name} ${asked.data.group}` : "Not found" };
}

/** One lot, joining job, dealer or other group of packs: what the page of a revision says of a revision. */
export default async function OneGroupPage({ searchParams }: GroupPageProps) {
  const actor = await requireActor("read-reliability");
  const asked = groupAddressSchema.safeParse(await searchParams);
  if (!asked.success) notFound();
  if (asked.data.by === "revision") redirect(groupHref("revision", asked.data.group));
  const page = await readGroupPage(actor, civilDateAt(new Date(), "UTC"), asked.data);
  if (page === null) notFound();
  return (
    <HouseFrame actor={actor} current="/reliability">
      <div className="space-y-8">
        <div className="space-y-2">
          <GroupHead page={page} />
        </div>
        <GroupParts page={page} />
      </div>
    </HouseFrame>
  );
}
