import { noDownload } from "@/app/_components/csv-download";
import { choiceOf, fileLeaves } from "@/app/_exports/file-leaves";
import { currentActor } from "@/lib/auth/session";
import { exportMonthTriangle } from "@/lib/data/month-triangle";
import { monthTriangleCsv } from "@/lib/reliability/month-triangle-words";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { groupAddressSchema } from "../../group/group-address";

/** Months of sale by months in service as a file, with the data date in its name and in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const asked = groupAddressSchema.safeParse(Object.fromEntries(new URL(request.url).searchParams));
  if (actor === null || !asked.success) return noDownload();
  const page = await exportMonthTriangle(actor, civilDateAt(new Date(), "UTC"), asked.data);
  if (page === null) return noDownload();
  const { dataDate, triangle } = page;
  return fileLeaves(
    actor,
    choiceOf(request),
    `months-of-sale-${dataDate}`,
    monthTriangleCsv({ dataDate, of: `${asked.data.by} ${asked.data.group}` }, triangle.rows),
  );
}
