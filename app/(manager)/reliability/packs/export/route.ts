import { noDownload } from "@/app/_components/csv-download";
import { choiceOf, fileLeaves } from "@/app/_exports/file-leaves";
import { currentActor } from "@/lib/auth/session";
import { exportPacks } from "@/lib/data/reliability/list-packs";
import { packListCsv, packListTitle } from "@/lib/reliability/pack-lists";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { packListAddressSchema } from "../pack-list-address";

/** A file may hold every pack of a group; a group of a million would still be a file a spreadsheet can open. */
const MOST_EXPORTED = 1_000_000;

/** A list of packs as a file, with the data date in its name and in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const asked = packListAddressSchema.safeParse(Object.fromEntries(new URL(request.url).searchParams));
  if (actor === null || !asked.success) return noDownload();
  const { by, group, list, ...filter } = asked.data;
  const dataDate = civilDateAt(new Date(), "UTC");
  const page = await exportPacks(actor, { dataDate, by, within: "model", group, filter }, list, MOST_EXPORTED);
  if (page === null) return noDownload();
  return fileLeaves(
    actor,
    choiceOf(request),
    `packs-${list}-${dataDate}`,
    packListCsv({ dataDate, by, group, title: packListTitle(list, filter) }, page.packs),
  );
}
