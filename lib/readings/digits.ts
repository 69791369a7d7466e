/** Whole number written by the digits from `from` to `to`, a decimal mark among them passed over. Exact up to 15 digits. */
export function doubleOfDigits(bytes: Uint8Array, from: number, to: number): number {
  let whole = 0;
  for (let at = from; at < to; at++) {
    const byte = bytes[at] ?? 0;
    if (byte >= 48 && byte <= 57) whole = whole * 10 + (byte - 48);
  }
  return whole;
}
