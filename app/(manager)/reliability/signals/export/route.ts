import { noDownload } from "@/app/_components/csv-download";
import { choiceOf, fileLeaves } from "@/app/_exports/file-leaves";
import { currentActor } from "@/lib/auth/session";
import { exportSignals } from "@/lib/data/reliability/signals";
import { signalsCsv } from "@/lib/reliability/signals-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

/** Every group watched as a file, with the data date in its name and in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const dataDate = civilDateAt(new Date(), "UTC");
  const page = actor === null ? null : await exportSignals(actor, dataDate);
  if (actor === null || page === null) return noDownload();
  return fileLeaves(
    actor,
    choiceOf(request),
    `early-signals-${dataDate}`,
    signalsCsv(dataDate, page.signals, page.ifFailures),
  );
}
