import type { PackModel } from "@/lib/packs/pack-model";
import { type AssembledLog, assembleLog } from "@/lib/readings/assemble-log";
import { type BodyReader, createBodyReader, headBytes } from "@/lib/readings/body-reader";
import { type ColumnMapping, unknownLabels } from "@/lib/readings/column-mapping";
import { createUtf16Transcoder, detectTextEncoding } from "@/lib/readings/text-encoding";
import type { UnusableFile } from "@/lib/readings/unusable-file";

/** Goes up whenever the same bytes may give another log; stored beside every decoded file. */
export const parserVersion = "11";

export type DecodedReadings = AssembledLog;

export type ReadingResult = DecodedReadings | UnusableFile;

export interface ReadingDecoderOptions {
  readonly model?: PackModel | undefined;
  readonly mapping?: ColumnMapping | undefined;
  /** Size of the whole file where it is known: room is made for its rows at once. */
  readonly sizeBytes?: number | undefined;
  /** IANA zone of dates that name none; without it they are read as if they were UTC. */
  readonly timeZone?: string | null | undefined;
  /** Day the pack was built, YYYY-MM-DD, where it is known: no date of its log lies much before it. */
  readonly builtOn?: string | null | undefined;
  /** Unix s when the file came, where it is known: no date of its log lies after it. */
  readonly receivedUnixS?: number | null | undefined;
}

export interface ReadingDecoder {
  /** Takes the next bytes of the file; they may be used again by the caller afterwards. */
  readonly push: (bytes: Uint8Array) => void;
  /** Rows taken so far, for a bar of progress. */
  readonly rows: () => number;
  /** Tells that the file is at its end. To be called once. */
  readonly end: () => ReadingResult;
}

/**
 * Decodes a readings file from its bytes, chunk by chunk, into one ReadingLog, or says in one sentence why it cannot.
 *
 * How the bytes are cut into chunks makes no difference to the result. Nothing is thrown whatever the bytes hold. Memory is the
 * numbers kept (8 bytes each) and about 100 kB; rows that cannot be read are listed with their line and reason, the first 1,000 of them.
 */
export function createReadingDecoder(options: ReadingDecoderOptions = {}): ReadingDecoder {
  const pending: Uint8Array[] = [];
  let pendingBytes = 0;
  let body: BodyReader | null = null;
  let transcoder: ReturnType<typeof createUtf16Transcoder> | null = null;
  let refusal: ReadingResult | null = refusedMapping(options.mapping);

  function begin(): void {
    const head = joinedPending();
    const found = detectTextEncoding(head);
    if (found.kind === "not-text") {
      const sentence = `This is ${found.what}, not a table of readings; export the readings as a CSV or text file.`;
      refusal = { kind: "unusable", reason: "not-text", sentence };
      return;
    }
    if (found.encoding !== "utf-8") transcoder = createUtf16Transcoder(found.encoding);
    body = createBodyReader(options.mapping, options.sizeBytes);
    feed(head.subarray(found.skipBytes));
  }

  function joinedPending(): Uint8Array {
    const head = new Uint8Array(pendingBytes);
    let at = 0;
    for (const part of pending) {
      head.set(part, at);
      at += part.length;
    }
    pending.length = 0;
    return head;
  }

  function feed(bytes: Uint8Array): void {
    body?.push(transcoder === null ? bytes : transcoder.push(bytes));
  }

  function push(bytes: Uint8Array): void {
    if (refusal !== null || body?.failed() === true) return;
    if (body !== null) {
      feed(bytes);
      return;
    }
    const room = headBytes - pendingBytes;
    pending.push(bytes.slice(0, room));
    pendingBytes += Math.min(room, bytes.length);
    if (pendingBytes < headBytes) return;
    begin();
    if (bytes.length > room) push(bytes.subarray(room));
  }

  function end(): ReadingResult {
    if (refusal === null && body === null) begin();
    if (refusal !== null) return refusal;
    if (transcoder !== null) body?.push(transcoder.flush());
    const result = body?.end() ?? { kind: "unusable", reason: "empty", sentence: "The file is empty." };
    return result.kind === "unusable"
      ? result
      : assembleLog(result, options.model, options.timeZone, unixOfDay(options.builtOn), options.receivedUnixS);
  }

  return { push, end, rows: () => body?.rows() ?? 0 };
}

/** Unix s at the start of a day YYYY-MM-DD; null for none, or for what is no day. */
export function unixOfDay(day: string | null | undefined): number | null {
  const milliseconds = day === null || day === undefined ? Number.NaN : Date.parse(`${day}T00:00:00Z`);
  return Number.isFinite(milliseconds) ? milliseconds / 1000 : null;
}

function refusedMapping(mapping: ColumnMapping | undefined): ReadingResult | null {
  const unknown = mapping === undefined ? [] : unknownLabels(mapping);
  if (unknown.length === 0) return null;
  const sentence = `The column mapping names labels that are not known: ${unknown
    .slice(0, 5)
    .map((label) => `'${label.slice(0, 60)}'`)
    .join(", ")}.`;
  return { kind: "unusable", reason: "bad-mapping", sentence };
}

/**
 * Reads a whole readings file from bytes, or from chunks as a stream gives them. The result is a log with its summary, or one
 * sentence that says why the file cannot be used. An error of the stream itself is passed on.
 */
export async function readReadings(
  source: Uint8Array | Iterable<Uint8Array> | AsyncIterable<Uint8Array>,
  options: ReadingDecoderOptions = {},
): Promise<ReadingResult> {
  const decoder = createReadingDecoder(options);
  if (source instanceof Uint8Array) decoder.push(source);
  else for await (const chunk of source) decoder.push(chunk);
  return decoder.end();
}
