import { noDownload } from "@/app/_components/csv-download";
import { choiceOf, fileLeaves } from "@/app/_exports/file-leaves";
import { currentActor } from "@/lib/auth/session";
import { exportMonthPacks } from "@/lib/data/reliability/month-triangle";
import { packListCsv } from "@/lib/reliability/pack-lists";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { monthCellAddressSchema, monthCellTitle } from "../../month-cell-address";

/** The packs of one cell as a file, with the data date in its name and in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const asked = monthCellAddressSchema.safeParse(Object.fromEntries(new URL(request.url).searchParams));
  if (actor === null || !asked.success) return noDownload();
  const dataDate = civilDateAt(new Date(), "UTC");
  const packs = await exportMonthPacks(actor, dataDate, asked.data);
  if (packs === null) return noDownload();
  const { by, group } = asked.data;
  return fileLeaves(
    actor,
    choiceOf(request),
    `packs-of-a-month-${dataDate}`,
    packListCsv({ dataDate, by, group, title: monthCellTitle(asked.data) }, packs),
  );
}
