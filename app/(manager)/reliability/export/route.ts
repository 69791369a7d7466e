import { currentActor } from "@/lib/auth/session";
import { exportReliability } from "@/lib/data/reliability";
import { reliabilityCsv } from "@/lib/reliability/reliability-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

/** The table of the failure rates as a file, with the data date in its name and in every row. */
export async function GET(): Promise<Response> {
  const actor = await currentActor();
  const page = actor === null ? null : await exportReliability(actor, civilDateAt(new Date(), "UTC"));
  if (page === null) return new Response(null, { status: 404 });
  return new Response(reliabilityCsv(page.dataDate, page.lines), {
    headers: {
      "Content-Type": "text/csv; charset=utf-8",
      "Content-Disposition": `attachment; filename="failure-rates-${page.dataDate}.csv"`,
      "X-Content-Type-Options": "nosniff",
      "Cache-Control": "private, no-store",
    },
  });
}
