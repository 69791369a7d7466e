import { linesOfHead } from "@/lib/readings/plan-body";
import { createUtf16Transcoder, detectTextEncoding } from "@/lib/readings/text-encoding";

/** The lines at the beginning of a file, from its first bytes in any encoding we read; `isWhole` where there are no others. None where it is no text. */
export function headLines(bytes: Uint8Array, isWhole: boolean): readonly string[] {
  const found = detectTextEncoding(bytes);
  if (found.kind === "not-text") return [];
  const text = bytes.subarray(found.skipBytes);
  return linesOfHead(found.encoding === "utf-8" ? text : createUtf16Transcoder(found.encoding).push(text), isWhole);
}
