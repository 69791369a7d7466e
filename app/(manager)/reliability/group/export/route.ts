import { currentActor } from "@/lib/auth/session";
import { exportGroupPage } from "@/lib/data/group-page";
import { groupCsv } from "@/lib/reliability/group-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { groupAddressSchema } from "../group-address";

/** The shares failed of one group as a file, with the data date in its name and in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const asked = groupAddressSchema.safeParse(Object.fromEntries(new URL(request.url).searchParams));
  if (actor === null || !asked.success) return new Response(null, { status: 404 });
  const page = await exportGroupPage(actor, civilDateAt(new Date(), "UTC"), asked.data);
  if (page === null) return new Response(null, { status: 404 });
  const { dataDate, line, life, lag, unknownStarts } = page;
  const lagCorrected = lag === null ? null : life.lagCorrected;
  const shares = { dataDate, ...asked.data, estimates: line.estimates, lagCorrected, unknownStarts };
  return new Response(groupCsv(shares), {
    headers: {
      "Content-Type": "text/csv; charset=utf-8",
      "Content-Disposition": `attachment; filename="shares-failed-${dataDate}.csv"`,
      "X-Content-Type-Options": "nosniff",
      "Cache-Control": "private, no-store",
    },
  });
}
