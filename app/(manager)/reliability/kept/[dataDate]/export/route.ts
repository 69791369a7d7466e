import { noDownload } from "@/app/_components/csv-download";
import { choiceOf, fileLeaves } from "@/app/_exports/file-leaves";
import { currentActor } from "@/lib/auth/session";
import { exportRollForward } from "@/lib/data/reliability/roll-forwards";
import { rollCsv } from "@/lib/reliability/roll-csv";
import { isCalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

interface Context {
  readonly params: Promise<{ dataDate: string }>;
}

/** A kept forecast held against what happened, as a file with both dates in its name and in every row. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { dataDate } = await params;
  const actor = await currentActor();
  const today = civilDateAt(new Date(), "UTC");
  const page = actor === null || !isCalendarDate(dataDate) ? null : await exportRollForward(actor, dataDate, today);
  if (actor === null || page === null) return noDownload();
  return fileLeaves(actor, choiceOf(request), `forecast-of-${page.from}-at-${page.to}`, rollCsv(page));
}
