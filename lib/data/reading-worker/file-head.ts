import { createHash } from "node:crypto";
import { closeSync, openSync, readSync } from "node:fs";
import { headBytes } from "@/lib/readings/body-reader";
import { headerShape } from "@/lib/readings/column-questions";
import { linesOfHead } from "@/lib/readings/plan-body";
import { createUtf16Transcoder, detectTextEncoding } from "@/lib/readings/text-encoding";

export interface FileHead {
  readonly lines: readonly string[];
  /** Hash of the header's shape; null where the file shows no table. */
  readonly shapeHash: string | null;
}

/** The first lines of a file, as the decoder sees them; none where it is no text. */
export function readFileHead(path: string, sizeBytes: number): FileHead {
  const bytes = new Uint8Array(headBytes);
  const file = openSync(path, "r");
  let length: number;
  try {
    length = readSync(file, bytes, 0, bytes.length, 0);
  } finally {
    closeSync(file);
  }
  const found = detectTextEncoding(bytes.subarray(0, Math.min(4096, length)));
  if (found.kind === "not-text") return { lines: [], shapeHash: null };
  const text = bytes.subarray(found.skipBytes, length);
  const utf8 = found.encoding === "utf-8" ? text : createUtf16Transcoder(found.encoding).push(text);
  const lines = linesOfHead(utf8, length === sizeBytes);
  const shape = headerShape(lines);
  return { lines, shapeHash: shape === null ? null : createHash("sha256").update(shape).digest("hex") };
}
