export type TextEncodingFound =
  | { readonly kind: "text"; readonly encoding: "utf-8" | "utf-16le" | "utf-16be"; readonly skipBytes: number }
  | { readonly kind: "not-text"; readonly what: string };

/**
 * First bytes of common files that are no text.
 * From memory; the authorities are ISO 32000-1 (PDF), PKWARE APPNOTE (zip), RFC 1952 (gzip), RFC 2083 (PNG), MS-CFB (compound file, old spreadsheets), SQLite
 * file format, HDF5 file format, Apache Parquet format; JPEG from ITU-T T.81.
 */
const signatures: readonly (readonly [bytes: readonly number[], what: string])[] = [
  [[0x25, 0x50, 0x44, 0x46], "a PDF document"],
  [[0x50, 0x4b, 0x03, 0x04], "a zip archive or a spreadsheet workbook"],
  [[0x50, 0x4b, 0x05, 0x06], "an empty zip archive"],
  [[0x1f, 0x8b], "a gzip archive"],
  [[0xd0, 0xcf, 0x11, 0xe0], "an old spreadsheet or office document"],
  [[0x89, 0x50, 0x4e, 0x47], "a picture"],
  [[0xff, 0xd8, 0xff], "a picture"],
  [[0x53, 0x51, 0x4c, 0x69, 0x74, 0x65, 0x20, 0x66], "a database file"],
  [[0x89, 0x48, 0x44, 0x46], "an HDF5 data file"],
  [[0x50, 0x41, 0x52, 0x31], "a Parquet data file"],
  [[0x37, 0x7a, 0xbc, 0xaf], "a 7z archive"],
];

/** Bytes looked at to tell text from a binary file. */
const encodingBytes = 4096;
/** Share of zero bytes at odd (or even) places above which text without a byte-order mark is taken for UTF-16. */
const utf16ZeroShare = 0.4;

/**
 * Encoding of a file from its first bytes: byte-order mark first (Unicode Standard 23.8), then known signatures of files that are
 * no text, then the pattern of zero bytes. Zero bytes in any other pattern mean a binary file. An empty input is UTF-8 text.
 */
export function detectTextEncoding(bytesOfFile: Uint8Array): TextEncodingFound {
  const head = bytesOfFile.subarray(0, encodingBytes);
  if (startsWith(head, [0xef, 0xbb, 0xbf])) return { kind: "text", encoding: "utf-8", skipBytes: 3 };
  if (startsWith(head, [0xff, 0xfe])) return { kind: "text", encoding: "utf-16le", skipBytes: 2 };
  if (startsWith(head, [0xfe, 0xff])) return { kind: "text", encoding: "utf-16be", skipBytes: 2 };
  for (const [bytes, what] of signatures) if (startsWith(head, bytes)) return { kind: "not-text", what };

  const zeros = [0, 0];
  head.forEach((byte, at) => {
    if (byte === 0) zeros[at % 2] = (zeros[at % 2] ?? 0) + 1;
  });
  const [even = 0, odd = 0] = zeros;
  if (even + odd === 0) return { kind: "text", encoding: "utf-8", skipBytes: 0 };
  const half = head.length / 2;
  if (odd > utf16ZeroShare * half && even === 0) return { kind: "text", encoding: "utf-16le", skipBytes: 0 };
  if (even > utf16ZeroShare * half && odd === 0) return { kind: "text", encoding: "utf-16be", skipBytes: 0 };
  return { kind: "not-text", what: "a binary file" };
}

function startsWith(bytes: Uint8Array, prefix: readonly number[]): boolean {
  return prefix.every((byte, at) => bytes[at] === byte);
}

/** Turns a stream of UTF-16 bytes into UTF-8 bytes; broken pairs become U+FFFD. `flush` gives what was still held back. */
export function createUtf16Transcoder(encoding: "utf-16le" | "utf-16be") {
  const decoder = new TextDecoder(encoding);
  const encoder = new TextEncoder();
  return {
    push: (bytes: Uint8Array): Uint8Array => encoder.encode(decoder.decode(bytes, { stream: true })),
    flush: (): Uint8Array => encoder.encode(decoder.decode()),
  };
}

/** Text of header bytes: UTF-8 where they are valid UTF-8, else Windows-1252, in which older exports write the degree sign. */
export function textOfHead(bytes: Uint8Array): string {
  const text = new TextDecoder("utf-8").decode(bytes);
  return text.includes("\uFFFD") ? new TextDecoder("windows-1252").decode(bytes) : text;
}
