/** Tokens that mean "not measured". Compared in lower case. Common practice, no source. */
const missingTokens: ReadonlySet<string> = new Set([
  "",
  "nan",
  "-nan",
  "na",
  "n/a",
  "#n/a",
  "#na",
  "null",
  "none",
  "nil",
  "-",
  "--",
  "---",
  "?",
  "inf",
  "+inf",
  "-inf",
  "infinity",
  "+infinity",
  "-infinity",
  "#value!",
  "#ref!",
  "#div/0!",
  "#num!",
  "err",
  "error",
  "fault",
  "invalid",
  "ol",
  "open",
  "short",
  "timeout",
  "undefined",
  "not available",
]);

const switchWords: Readonly<Record<string, number>> = {
  on: 1,
  true: 1,
  closed: 1,
  yes: 1,
  enabled: 1,
  off: 0,
  false: 0,
  no: 0,
  disabled: 0,
};

export type ValueRead =
  | { readonly kind: "number"; readonly value: number }
  | { readonly kind: "missing" }
  | { readonly kind: "unreadable"; readonly reason: string };

/**
 * Reads one field that the quick byte path could not read. Decimal mark as given; exponents are allowed; a number outside the
 * range of a double, or with a thousands mark, is unreadable rather than guessed at.
 */
export function readValue(field: string, decimalMark: "." | ","): ValueRead {
  const text = field.trim();
  if (missingTokens.has(text.toLowerCase())) return { kind: "missing" };
  const plain = decimalMark === "," ? text.replace(",", ".") : text;
  if ((decimalMark === "." || !text.includes(".")) && /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/.test(plain)) {
    const value = Number(plain);
    return Number.isFinite(value)
      ? { kind: "number", value }
      : unreadable(`is too large to be a reading: ${quoted(text)}`);
  }
  if (/^[+-]?\d{1,3}(?:[ ',.\u00a0\u202f]\d{3})+(?:[.,]\d+)?$/.test(text))
    return unreadable(`has a thousands mark and is not guessed at: ${quoted(text)}`);
  return unreadable(`is not a number: ${quoted(text)}`);
}

/** Reads a switch: the words on and off and their like, else a number. */
export function readSwitch(field: string, decimalMark: "." | ","): ValueRead {
  const word = field.trim().toLowerCase();
  const value = Object.hasOwn(switchWords, word) ? switchWords[word] : undefined;
  return value === undefined ? readValue(field, decimalMark) : { kind: "number", value };
}

/** Reads a word of bits: decimal, or hexadecimal with 0x in front. */
export function readBits(field: string, decimalMark: "." | ","): ValueRead {
  const text = field.trim();
  return /^0x[0-9a-f]{1,12}$/i.test(text) ? { kind: "number", value: Number(text) } : readSwitch(field, decimalMark);
}

function unreadable(reason: string): ValueRead {
  return { kind: "unreadable", reason };
}

/** A piece of the file made safe for a sentence: control characters out, cut at 24 characters. */
export function quoted(text: string): string {
  const clean = text.replace(/\p{C}/gu, "?");
  return clean.length > 24 ? `'${clean.slice(0, 24)}…'` : `'${clean}'`;
}
