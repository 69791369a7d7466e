import { noDownload } from "@/app/_components/csv-download";
import { choiceOf, fileLeaves } from "@/app/_exports/file-leaves";
import { currentActor } from "@/lib/auth/session";
import { exportForecast } from "@/lib/data/reliability/failure-forecasts";
import { forecastCsv } from "@/lib/reliability/forecast-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

/** The forecast as a file, with the data date in its name and in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const page = actor === null ? null : await exportForecast(actor, civilDateAt(new Date(), "UTC"));
  if (actor === null || page === null) return noDownload();
  return fileLeaves(
    actor,
    choiceOf(request),
    `failures-to-come-${page.dataDate}`,
    forecastCsv(page.dataDate, page.revisions, page.beside),
  );
}
