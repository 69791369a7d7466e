const lineFeed = 10;
const carriageReturn = 13;
const quote = 34;
const space = 32;
const decoder = new TextDecoder("utf-8");

/** Place of the first line end from `from` on; `to` where there is none. */
export function endOfLine(bytes: Uint8Array, from: number, to: number): number {
  let at = from;
  while (at < to && bytes[at] !== lineFeed && bytes[at] !== carriageReturn) at++;
  return at;
}

/** Place of the delimiter or line end that closes the field; a quoted field ends with its line at the latest. */
export function endOfField(bytes: Uint8Array, from: number, to: number, delimiter: number): number {
  let at = from;
  while (at < to && bytes[at] === space) at++;
  if (bytes[at] === quote) {
    at++;
    for (; at < to; at++) {
      const byte = bytes[at];
      if (byte === lineFeed || byte === carriageReturn) return at;
      if (byte !== quote) continue;
      if (bytes[at + 1] === quote) at++;
      else break;
    }
  }
  while (at < to && bytes[at] !== delimiter && bytes[at] !== lineFeed && bytes[at] !== carriageReturn) at++;
  return at;
}

/** Text of a field without the blanks and the quotes around it. */
export function fieldText(bytes: Uint8Array, from: number, to: number): string {
  let text = "";
  let isAscii = to - from <= 64;
  for (let at = from; isAscii && at < to; at++) {
    const byte = bytes[at] ?? space;
    isAscii = byte < 128;
    text += String.fromCharCode(byte);
  }
  const trimmed = (isAscii ? text : decoder.decode(bytes.subarray(from, to))).trim();
  return trimmed.startsWith('"') ? trimmed.replace(/^"|"$/g, "").replaceAll('""', '"').trim() : trimmed;
}

/** Text of a whole line without blanks around it. */
export function lineText(bytes: Uint8Array, from: number, to: number): string {
  return decoder.decode(bytes.subarray(from, to)).trim();
}

export function isBlank(bytes: Uint8Array, from: number, to: number): boolean {
  for (let at = from; at < to; at++) if (bytes[at] !== space) return false;
  return true;
}

export function joinedBytes(first: Uint8Array, second: Uint8Array): Uint8Array<ArrayBuffer> {
  const both = new Uint8Array(first.length + second.length);
  both.set(first);
  both.set(second, first.length);
  return both;
}
