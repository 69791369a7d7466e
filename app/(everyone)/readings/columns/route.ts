import { z } from "zod";
import { currentActor } from "@/lib/auth/session";
import { askAgain, letHeldGo, readReceived } from "@/lib/data/readings";
import { columnAnswersSchema } from "@/lib/readings/column-answers.schema";
import { streamOfLines } from "../stream-of-lines";

const orderSchema = z.union([
  z.object({ heldId: z.uuid(), answers: columnAnswersSchema }),
  z.object({ fileId: z.uuid() }),
]);

/** Takes what a person says about the columns of a file that is held here and reads it so, or opens the questions again. */
export async function POST(request: Request): Promise<Response> {
  if (request.headers.get("sec-fetch-site") === "cross-site") return refuse(403, "This was sent from another site.");
  const actor = await currentActor();
  if (actor === null) return refuse(401, "You are signed out. Sign in again; your answers are kept.");
  const order = orderSchema.safeParse(await request.json().catch(() => null));
  if (!order.success) return refuse(400, "The answers about the columns did not arrive whole. Choose the file again.");
  const { data } = order;
  return streamOfLines(request.signal, (watch) =>
    "fileId" in data
      ? askAgain(actor, data.fileId, watch)
      : readReceived(actor, data.heldId, watch, { answers: data.answers }),
  );
}

/** Lets go of a file whose questions nobody answered, because another file was chosen. */
export async function DELETE(request: Request): Promise<Response> {
  if (request.headers.get("sec-fetch-site") === "cross-site") return refuse(403, "This was sent from another site.");
  const actor = await currentActor();
  if (actor === null) return refuse(401, "You are signed out. Sign in again; your answers are kept.");
  const heldId = z.uuid().safeParse(new URL(request.url).searchParams.get("heldId"));
  if (!heldId.success) return refuse(400, "Nothing was named to let go of.");
  await letHeldGo(actor, heldId.data);
  return new Response(null, { status: 204 });
}

function refuse(status: number, sentence: string): Response {
  return Response.json({ ok: false, sentence }, { status });
}
