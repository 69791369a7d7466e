import { closeSync, openSync, readSync } from "node:fs";
import type { MessagePort } from "node:worker_threads";
import type { PackModel } from "@/lib/packs/pack-model";
import { assembleLog } from "@/lib/readings/assemble-log";
import { readBodyPart } from "@/lib/readings/body-part";
import { headBytes } from "@/lib/readings/body-reader";
import { type ColumnMapping, unknownLabels } from "@/lib/readings/column-mapping";
import { decodedColumns } from "@/lib/readings/decoded-columns";
import { planBody } from "@/lib/readings/plan-body";
import { createReadingDecoder, type ReadingResult, unixOfDay } from "@/lib/readings/read-readings";
import { sharedTable } from "@/lib/readings/shared-columns";
import { detectTextEncoding } from "@/lib/readings/text-encoding";
import { cutBody } from "./cut-body";
import { joinPieces } from "./join-pieces";
import { chunksOf, readPieces, sharedBuffer } from "./read-pieces";
import { addProgress, type Helped, type SharedBody } from "./reading-task";

export interface FileToDecode {
  readonly path: string;
  readonly sizeBytes: number;
  readonly model: PackModel | undefined;
  readonly mapping: ColumnMapping | undefined;
  readonly timeZone?: string | null;
  readonly builtOn: string | null;
  /** Unix s when the file came; without it any date may be believed. */
  readonly receivedUnixS?: number | null | undefined;
  readonly progress: SharedArrayBuffer;
  readonly helper: MessagePort | null;
}

/**
 * Decodes a file to the same result as createReadingDecoder, to the last bit. A long UTF-8 file is cut into pieces of whole lines,
 * which a second thread helps to read; any other is read from one end to the other.
 */
export async function decodeFile(request: FileToDecode): Promise<ReadingResult> {
  const file = openSync(request.path, "r");
  try {
    return (await decodeInPieces(file, request)) ?? decodeThrough(file, request);
  } finally {
    closeSync(file);
  }
}

function decodeThrough(
  file: number,
  { sizeBytes, model, mapping, timeZone, builtOn, receivedUnixS, progress }: FileToDecode,
): ReadingResult {
  const decoder = createReadingDecoder({ model, mapping, timeZone, builtOn, receivedUnixS, sizeBytes });
  let rowsBefore = 0;
  for (const chunk of chunksOf(file, 0, sizeBytes)) {
    decoder.push(chunk);
    addProgress(progress, decoder.rows() - rowsBefore, chunk.length);
    rowsBefore = decoder.rows();
  }
  return decoder.end();
}

async function decodeInPieces(file: number, request: FileToDecode): Promise<ReadingResult | null> {
  const { path, sizeBytes, model, mapping, timeZone, builtOn, receivedUnixS, progress, helper } = request;
  if (mapping !== undefined && unknownLabels(mapping).length > 0) return null;
  const first = new Uint8Array(headBytes + 4);
  if (readSync(file, first, 0, first.length, 0) < first.length) return null;
  const found = detectTextEncoding(first);
  if (found.kind === "not-text" || found.encoding !== "utf-8") return null;
  const head = first.subarray(found.skipBytes, found.skipBytes + headBytes);
  const plan = planBody(head, false, mapping);
  if (plan.kind === "unusable") return null;
  const cut = cutBody(file, plan, head, found.skipBytes + plan.firstRowAt, sizeBytes);
  if (cut === null) return null;

  const rooms = cut.pieces.reduce((sum, { rows }) => sum + rows, 0);
  const body: SharedBody = {
    kind: "body",
    path,
    plan,
    pieces: cut.pieces,
    columns: sharedTable(plan.plan.columns.length, rooms),
    line: sharedBuffer(4 * rooms),
    next: sharedBuffer(4),
    progress,
  };
  helper?.postMessage(body);
  const own = readPieces(body);
  const missing = cut.pieces.length - own.length;
  const others = helper === null || missing === 0 ? [] : (await answerOf(helper)).read;
  const { table, parts, progress: sofar } = joinPieces(body, [...own, ...others]);
  const tail = readBodyPart(plan, table, sofar, sharedBuffer);
  for (const chunk of chunksOf(file, cut.tailAt, sizeBytes)) tail.push(chunk);
  const decoded = decodedColumns(plan, table, [...parts, tail.end()]);
  return decoded.kind === "unusable"
    ? decoded
    : assembleLog(decoded, model, timeZone, unixOfDay(builtOn), receivedUnixS);
}

function answerOf(helper: MessagePort): Promise<Helped> {
  return new Promise((resolve, reject) => {
    helper.once("message", resolve);
    helper.once("close", () => reject(new Error("The second thread ended before it had read its pieces")));
  });
}
