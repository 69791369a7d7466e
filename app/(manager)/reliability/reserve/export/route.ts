import { currentActor } from "@/lib/auth/session";
import { exportForecast } from "@/lib/data/failure-forecasts";
import { reserveCsv } from "@/lib/reliability/reserve-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

/** What is still to come until the end of cover as a file, with the data date in its name and in every row. */
export async function GET(): Promise<Response> {
  const actor = await currentActor();
  const page = actor === null ? null : await exportForecast(actor, civilDateAt(new Date(), "UTC"));
  if (page === null) return new Response(null, { status: 404 });
  return new Response(reserveCsv(page.dataDate, page.revisions), {
    headers: {
      "Content-Type": "text/csv; charset=utf-8",
      "Content-Disposition": `attachment; filename="until-end-of-cover-${page.dataDate}.csv"`,
      "X-Content-Type-Options": "nosniff",
      "Cache-Control": "private, no-store",
    },
  });
}
