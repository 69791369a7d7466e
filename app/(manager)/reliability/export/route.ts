import { currentActor } from "@/lib/auth/session";
import { exportWatch } from "@/lib/data/watch";
import { comparisonChoiceSchema } from "@/lib/reliability/compare-by";
import { reliabilityCsv } from "@/lib/reliability/reliability-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

/** The table of the failure rates as a file, with the data date in its name and in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const choice = comparisonChoiceSchema.parse(Object.fromEntries(new URL(request.url).searchParams));
  const exported = actor === null ? null : await exportWatch(actor, civilDateAt(new Date(), "UTC"), choice);
  if (exported === null) return new Response(null, { status: 404 });
  const { page, lines } = exported;
  return new Response(reliabilityCsv(page.dataDate, choice.by, lines), {
    headers: {
      "Content-Type": "text/csv; charset=utf-8",
      "Content-Disposition": `attachment; filename="failure-rates-${choice.by}-${page.dataDate}.csv"`,
      "X-Content-Type-Options": "nosniff",
      "Cache-Control": "private, no-store",
    },
  });
}
