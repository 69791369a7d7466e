import { z } from "zod";
import { currentActor } from "@/lib/auth/session";
import { readReceived, receiveReadings } from "@/lib/data/readings/readings";
import { streamOfLines } from "./stream-of-lines";

const querySchema = z.object({
  serial: z.string().max(200),
  name: z.string().max(500).catch("readings.csv"),
  reference: z.string().max(40).optional(),
});

/**
 * Takes a readings file as raw bytes, streamed, then reads it. The answer is one JSON document a line: how far the reading is, and
 * at last what the file shows, or in one sentence why it was not taken. Who closes the connection calls the reading off.
 */
export async function POST(request: Request): Promise<Response> {
  // A form on another site could otherwise make a signed-in browser send bytes here.
  if (request.headers.get("sec-fetch-site") === "cross-site")
    return refuse(403, "This file was sent from another site.");
  const actor = await currentActor();
  if (actor === null) return refuse(401, "You are signed out. Sign in again; your answers are kept.");
  const query = querySchema.safeParse(Object.fromEntries(new URL(request.url).searchParams));
  if (!query.success) return refuse(400, "Enter the serial first, then choose the file.");
  const { serial, name, reference } = query.data;
  const received = await receiveReadings(actor, { serial, reference, fileName: name, chunks: bytesOf(request) });
  if (!received.ok) return refuse(422, received.sentence);
  return streamOfLines(request.signal, (watch) => readReceived(actor, received.heldId, watch));
}

async function* bytesOf(request: Request): AsyncGenerator<Uint8Array> {
  if (request.body === null) return;
  const reader = request.body.getReader();
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      yield value;
    }
  } finally {
    reader.releaseLock();
  }
}

function refuse(status: number, sentence: string): Response {
  return Response.json({ ok: false, sentence }, { status });
}
