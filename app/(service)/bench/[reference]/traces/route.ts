import { z } from "zod";
import { currentActor } from "@/lib/auth/session";
import { readTraceWindow } from "@/lib/data/readings/trace-window";

interface TraceRoute {
  readonly params: Promise<{ readonly reference: string }>;
}

const rows = z.coerce.number().int().min(0).max(1e9);
const askedFor = z.object({
  from: rows,
  to: rows,
  groups: z
    .string()
    .regex(/^(\d{1,3}(,\d{1,3})*)?$/)
    .transform((text) => (text === "" ? [] : text.split(",").map(Number))),
});

/** Part of the readings of a return, for looking closer: lowest and highest value of each stretch of rows. */
export async function GET(request: Request, { params }: TraceRoute): Promise<Response> {
  const actor = await currentActor();
  if (actor === null) return new Response(null, { status: 404 });
  const asked = askedFor.safeParse(Object.fromEntries(new URL(request.url).searchParams));
  if (!asked.success) return new Response(null, { status: 400 });
  const { from, to, groups } = asked.data;
  const window = await readTraceWindow(actor, (await params).reference, { fromRow: from, toRow: to, groups });
  if (window === null) return new Response(null, { status: 404 });
  return Response.json(window, { headers: { "Cache-Control": "private, no-store" } });
}
