import { noDownload } from "@/app/_components/csv-download";
import { choiceOf, fileLeaves } from "@/app/_exports/file-leaves";
import { currentActor } from "@/lib/auth/session";
import { exportForecast } from "@/lib/data/reliability/failure-forecasts";
import { reserveCsv } from "@/lib/reliability/reserve-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

/** What is still to come until the end of cover as a file, with the data date in its name and in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const page = actor === null ? null : await exportForecast(actor, civilDateAt(new Date(), "UTC"));
  if (actor === null || page === null) return noDownload();
  return fileLeaves(
    actor,
    choiceOf(request),
    `until-end-of-cover-${page.dataDate}`,
    reserveCsv(page.dataDate, page.revisions, page.beside),
  );
}
