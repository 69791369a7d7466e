import {
  createReadingDecoder,
  type DecodedReadings,
  type ReadingDecoderOptions,
  type ReadingResult,
} from "@/lib/readings/read-readings";

/** Headers of our own labels for a pack of `groups` cells. */
export function packHeaders(groups: number): string[] {
  const cells = Array.from({ length: groups }, (_, at) => `Cell ${String(at + 1).padStart(2, "0")} Voltage / V`);
  return ["Test Time / s", "Voltage / V", "Current / A", ...cells, "Temperature T1 / degC", "State of Charge / %"];
}

/** One row a second of a healthy pack: a square wave of current, 1 milliohm a cell, charge counted from 50 % of 40 Ah. */
export function packRows(groups: number, rows: number): number[][] {
  let chargeAs = 0;
  return Array.from({ length: rows }, (_, row) => {
    const currentA = Math.floor(row / 5) % 2 === 0 ? -20 : 4;
    chargeAs += row === 0 ? 0 : currentA;
    const cells = Array.from({ length: groups }, (_, cell) => 3.7 + 0.001 * currentA + 0.002 * cell);
    const sumV = cells.reduce((sum, voltageV) => sum + voltageV, 0);
    const values = [row, sumV, currentA, ...cells, 25.5, 50 + (chargeAs / 3600 / 40) * 100];
    return values.map((value) => Number(value.toFixed(4)));
  });
}

export function tableText(
  headers: readonly string[],
  rows: readonly (readonly (number | string)[])[],
  delimiter = ",",
  lineEnd = "\n",
): string {
  return [headers, ...rows].map((row) => row.join(delimiter) + lineEnd).join("");
}

/** Text of a whole file of a healthy pack. */
export function packText(groups = 4, rows = 40): string {
  return tableText(packHeaders(groups), packRows(groups, rows));
}

export function decodeBytes(
  bytes: Uint8Array,
  options: ReadingDecoderOptions = {},
  chunkBytes = bytes.length,
): ReadingResult {
  const decoder = createReadingDecoder(options);
  for (let at = 0; at < bytes.length; at += Math.max(1, chunkBytes))
    decoder.push(bytes.subarray(at, at + Math.max(1, chunkBytes)));
  return decoder.end();
}

export function decodeText(text: string, options: ReadingDecoderOptions = {}): ReadingResult {
  return decodeBytes(new TextEncoder().encode(text), options);
}

/** The log of a text that must be usable. */
export function logOf(text: string, options: ReadingDecoderOptions = {}): DecodedReadings {
  const result = decodeText(text, options);
  if (result.kind !== "log") throw new Error(`unusable: ${result.sentence}`);
  return result;
}
