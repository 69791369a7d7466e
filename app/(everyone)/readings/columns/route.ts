import { z } from "zod";
import { currentActor } from "@/lib/auth/session";
import { askAgain, letHeldGo, readReceived } from "@/lib/data/readings/readings";
import { takeReadingsOut } from "@/lib/data/readings/take-readings-out";
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

/**
 * Lets go of a file whose questions nobody answered, because another file was chosen (`heldId`), or takes one out that was read
 * but not sent with a form (`fileId`).
 */
export async function DELETE(request: Request): Promise<Response> {
  if (request.headers.get("sec-fetch-site") === "cross-site") return refuse(403, "This was sent from another site.");
  const actor = await currentActor();
  if (actor === null) return refuse(401, "You are signed out. Sign in again; your answers are kept.");
  const { searchParams } = new URL(request.url);
  const heldId = z.uuid().safeParse(searchParams.get("heldId"));
  const fileId = z.uuid().safeParse(searchParams.get("fileId"));
  if (heldId.success) await letHeldGo(actor, heldId.data);
  else if (fileId.success) await takeReadingsOut(actor, fileId.data);
  else return refuse(400, "Nothing was named to let go of.");
  return new Response(null, { status: 204 });
}

function refuse(status: number, sentence: string): Response {
  return Response.json({ ok: false, sentence }, { status });
}
