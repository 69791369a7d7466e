import { createHash } from "node:crypto";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { MessageChannel } from "node:worker_threads";
import { afterAll, expect, test } from "vitest";
import { decodeFile } from "@/lib/data/reading-worker/decode-file";
import { newProgress, progressOf } from "@/lib/data/reading-worker/reading-task";
import { runTask } from "@/lib/data/reading-worker/tasks";
import { createReadingDecoder, type ReadingResult } from "@/lib/readings/read-readings";
import type { ReadingLog } from "@/lib/readings/reading-log";

const folder = await mkdtemp(path.join(tmpdir(), "bench-decode-"));
afterAll(() => rm(folder, { recursive: true }));

/** Long enough to be cut: lines of three cells, with everything that can go wrong in a line strewn in. */
function longText(lineEnd: string, ended: boolean): string {
  const lines = ["Serial: AB-1", "Test Time / s,Voltage / V,Current / A,Cell 1 / V,Cell 2 / V,Cell 3 / V,SoC / %"];
  for (let row = 0; row < 90_000; row++) {
    const volts = (3.6 + (row % 97) / 1000).toFixed(3);
    const current = row % 60 < 20 ? "-12.50" : "0.00";
    if (row % 1009 === 5) lines.push("");
    if (row % 2003 === 7) lines.push(`${row},oops,${current},${volts},${volts},${volts},50.0`);
    const soc = row % 3001 === 9 ? "ERR7" : "50.0";
    lines.push(`${row},${(Number(volts) * 3).toFixed(2)},${current},${volts},"${volts}",${volts},${soc}`);
  }
  lines.push("90000,10.8,0.00,3.6");
  return lines.join(lineEnd) + (ended ? lineEnd : "");
}

async function bothWays(text: string): Promise<{ whole: ReadingResult; pieces: ReadingResult; sharedRows: number }> {
  const bytes = new TextEncoder().encode(text);
  const file = path.join(folder, "log.csv");
  await writeFile(file, bytes);
  const decoder = createReadingDecoder();
  decoder.push(bytes);
  const whole = decoder.end();
  const progress = newProgress();
  const { port1, port2 } = new MessageChannel();
  const helping = runTask({ kind: "help", port: port2, started: new SharedArrayBuffer(4) });
  const request = {
    path: file,
    sizeBytes: bytes.length,
    model: undefined,
    mapping: undefined,
    builtOn: null,
    progress,
  };
  const pieces = await decodeFile({ ...request, helper: port1 });
  port1.close();
  await helping;
  return { whole, pieces, sharedRows: progressOf(progress, bytes.length).rows };
}

/** A fingerprint of every column: comparing the numbers one by one takes the test runner half a minute. */
function bitsOf(log: ReadingLog): [string, string][] {
  const arrays = Object.entries(log).flatMap(([name, value]: [string, unknown]): [string, ArrayBufferView][] =>
    ArrayBuffer.isView(value) ? [[name, value]] : [],
  );
  const cells = log.cellVoltagesV.map((values, at): [string, ArrayBufferView] => [`cell ${at + 1}`, values]);
  const probes = log.temperatures.map(({ name, valuesC }): [string, ArrayBufferView] => [name, valuesC]);
  return [...arrays, ...cells, ...probes].map(([name, { buffer, byteOffset, byteLength }]) => [
    name,
    createHash("sha256")
      .update(new Uint8Array(buffer, byteOffset, byteLength))
      .digest("hex"),
  ]);
}

test.each([
  ["LF, the last line cut off", "\n", false],
  ["CR LF", "\r\n", true],
])("a file read in pieces gives the same log and the same words as read through: %s", async (_, lineEnd, ended) => {
  const { whole, pieces, sharedRows } = await bothWays(longText(lineEnd, ended));
  if (whole.kind !== "log" || pieces.kind !== "log") throw new Error("unusable");
  expect(sharedRows).toBe(whole.log.rows);
  expect(pieces.summary).toEqual(whole.summary);
  expect(whole.summary.rejected.length).toBeGreaterThan(40);
  expect(bitsOf(pieces.log)).toEqual(bitsOf(whole.log));
});

test("a long file whose rows are shorter than its first lines let expect keeps them all", async () => {
  const lines = ["Test Time / s,Cell 1 / V,Cell 2 / V"];
  for (let row = 0; row < 400_000; row++)
    lines.push(row < 8000 ? `${row}.00000000,3.60000000,3.60000000` : `${row},4,4`);
  const { whole, pieces } = await bothWays(`${lines.join("\n")}\n`);
  if (whole.kind !== "log" || pieces.kind !== "log") throw new Error("unusable");
  expect(pieces.log.rows).toBe(400_000);
  expect(bitsOf(pieces.log)).toEqual(bitsOf(whole.log));
});
