import { createHash } from "node:crypto";
import { closeSync, openSync, readSync } from "node:fs";
import { headBytes } from "@/lib/readings/body-reader";
import { headerShape } from "@/lib/readings/column-questions";
import { headLines } from "@/lib/readings/head-lines";

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
  const lines = headLines(bytes.subarray(0, length), length === sizeBytes);
  const shape = headerShape(lines);
  return { lines, shapeHash: shape === null ? null : createHash("sha256").update(shape).digest("hex") };
}
