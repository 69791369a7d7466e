/** A short, quiet log as a text: enough for the decoder, nothing for a diagnosis. */
export function plainLogCsv(options: { groups: number; rows?: number; serial?: string }): string {
  const { groups, rows = 120, serial } = options;
  const cells = Array.from({ length: groups }, (_, k) => `Cell ${String(k + 1).padStart(2, "0")} Voltage / V`);
  const header = ["Test Time / s", "Voltage / V", "Current / A", ...cells, "Temperature T1 / degC"].join(",");
  const lines = Array.from({ length: rows }, (_, row) => {
    const voltage = 3.8 + ((row * 7) % 3) * 0.001;
    return [row, (voltage * groups).toFixed(3), "0.0", ...cells.map(() => voltage.toFixed(3)), "21.0"].join(",");
  });
  return `${serial === undefined ? "" : `# Serial: ${serial}\n`}${header}\n${lines.join("\n")}\n`;
}

export async function* streamOf(...parts: (string | Uint8Array)[]): AsyncGenerator<Uint8Array> {
  for (const part of parts) yield typeof part === "string" ? new TextEncoder().encode(part) : part;
}
