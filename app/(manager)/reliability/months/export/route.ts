import { currentActor } from "@/lib/auth/session";
import { exportMonthTriangle } from "@/lib/data/month-triangle";
import { monthTriangleCsv } from "@/lib/reliability/month-triangle-words";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { groupAddressSchema } from "../../group/group-address";

/** Months of sale by months in service as a file, with the data date in its name and in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const asked = groupAddressSchema.safeParse(Object.fromEntries(new URL(request.url).searchParams));
  if (actor === null || !asked.success) return new Response(null, { status: 404 });
  const page = await exportMonthTriangle(actor, civilDateAt(new Date(), "UTC"), asked.data);
  if (page === null) return new Response(null, { status: 404 });
  const { dataDate, triangle } = page;
  return new Response(monthTriangleCsv({ dataDate, of: `${asked.data.by} ${asked.data.group}` }, triangle.rows), {
    headers: {
      "Content-Type": "text/csv; charset=utf-8",
      "Content-Disposition": `attachment; filename="months-of-sale-${dataDate}.csv"`,
      "X-Content-Type-Options": "nosniff",
      "Cache-Control": "private, no-store",
    },
  });
}
