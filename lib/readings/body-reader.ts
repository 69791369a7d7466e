import type { ColumnMapping } from "@/lib/readings/column-mapping";
import { type DecodedColumns, type OpenBody, openBody } from "@/lib/readings/open-body";
import type { UnusableFile } from "@/lib/readings/unusable-file";

export interface BodyReader {
  readonly push: (bytes: Uint8Array) => void;
  readonly end: () => DecodedColumns | UnusableFile;
  /** True once the file is known to be unusable: further bytes need not be read. */
  readonly failed: () => boolean;
}

/** Bytes of text held back for the header and the first rows. */
const headBytes = 65_536;

/** Reads UTF-8 text, chunk by chunk: preamble, header, then rows into columns. Same promises as createReadingDecoder. */
export function createBodyReader(mapping: ColumnMapping | undefined): BodyReader {
  let head = new Uint8Array(0);
  let body: OpenBody | UnusableFile | null = null;

  function push(bytes: Uint8Array): void {
    if (body !== null) {
      if (body.kind === "open") body.rows.push(bytes);
      return;
    }
    const both = new Uint8Array(head.length + bytes.length);
    both.set(head);
    both.set(bytes, head.length);
    head = both.slice(0, headBytes);
    if (both.length < headBytes) return;
    body = openBody(head, false, mapping);
    head = new Uint8Array(0);
    push(both.subarray(headBytes));
  }

  function end(): DecodedColumns | UnusableFile {
    const opened = body ?? openBody(head, true, mapping);
    if (opened.kind === "unusable") return opened;
    opened.rows.end();
    return opened.finish();
  }

  return { push, end, failed: () => body !== null && (body.kind === "unusable" || body.failure() !== null) };
}
