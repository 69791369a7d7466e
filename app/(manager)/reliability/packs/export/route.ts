import { currentActor } from "@/lib/auth/session";
import { exportPacks } from "@/lib/data/list-packs";
import { packListCsv } from "@/lib/reliability/pack-lists";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { packListAddressSchema } from "../pack-list-address";

/** A file may hold every pack of a group; a group of a million would still be a file a spreadsheet can open. */
const MOST_EXPORTED = 1_000_000;

/** A list of packs as a file, with the data date in its name and in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const asked = packListAddressSchema.safeParse(Object.fromEntries(new URL(request.url).searchParams));
  if (actor === null || !asked.success) return new Response(null, { status: 404 });
  const { by, group, list } = asked.data;
  const dataDate = civilDateAt(new Date(), "UTC");
  const page = await exportPacks(actor, { dataDate, by, within: "model", group }, list, MOST_EXPORTED);
  if (page === null) return new Response(null, { status: 404 });
  return new Response(packListCsv({ dataDate, by, group, list }, page.packs), {
    headers: {
      "Content-Type": "text/csv; charset=utf-8",
      "Content-Disposition": `attachment; filename="packs-${list}-${dataDate}.csv"`,
      "X-Content-Type-Options": "nosniff",
      "Cache-Control": "private, no-store",
    },
  });
}
