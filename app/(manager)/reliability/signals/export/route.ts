import { csvDownload, noDownload } from "@/app/_components/csv-download";
import { currentActor } from "@/lib/auth/session";
import { exportSignals } from "@/lib/data/signals";
import { signalsCsv } from "@/lib/reliability/signals-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

/** Every group watched as a file, with the data date in its name and in every row. */
export async function GET(): Promise<Response> {
  const actor = await currentActor();
  const dataDate = civilDateAt(new Date(), "UTC");
  const page = actor === null ? null : await exportSignals(actor, dataDate);
  if (page === null) return noDownload();
  return csvDownload(`early-signals-${dataDate}`, signalsCsv(dataDate, page.signals));
}
