import { noDownload } from "@/app/_components/csv-download";
import { choiceOf, fileLeaves } from "@/app/_exports/file-leaves";
import { currentActor } from "@/lib/auth/session";
import { exportMonthTriangle } from "@/lib/data/reliability/month-triangle";
import { monthComparisonCsv, monthTriangleCsv } from "@/lib/reliability/month-triangle-words";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { monthFileAddressSchema } from "../month-cell-address";

/** Months of sale by months in service, or each against the others, as a file, with the data date in its name and in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const asked = monthFileAddressSchema.safeParse(Object.fromEntries(new URL(request.url).searchParams));
  if (actor === null || !asked.success) return noDownload();
  const page = await exportMonthTriangle(actor, civilDateAt(new Date(), "UTC"), asked.data);
  if (page === null) return noDownload();
  const { dataDate, triangle } = page;
  const { by, group, model } = asked.data;
  const about = { dataDate, of: `${by} ${group}${model === undefined ? "" : `, model ${model}`}` };
  const isComparison = asked.data.table === "comparison";
  return fileLeaves(
    actor,
    choiceOf(request),
    `months-of-sale-${isComparison ? "compared-" : ""}${dataDate}`,
    isComparison ? monthComparisonCsv(about, triangle) : monthTriangleCsv(about, triangle.rows),
  );
}
