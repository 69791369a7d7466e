import { mkdir, open, rename, rm, stat } from "node:fs/promises";
import path from "node:path";
import { traceColumns } from "@/lib/readings/trace-columns";
import { BLOCK_ROWS, lowestAndHighest } from "@/lib/readings/trace-window";
import { HEAD_BYTES } from "./column-layout";
import { decodeFile } from "./decode-file";
import { enterStage, type LayOutTask } from "./reading-task";

/**
 * Lays a file's columns out so that any stretch of any of them can be read alone: head, time as 8-byte numbers, every
 * column as 4-byte numbers, then lowest and highest of each block of rows. Written aside and moved into place, so that a
 * half-written one is never read.
 */
export async function layOutColumns({
  path: file,
  model,
  answers,
  builtOn,
  into,
  temporary,
  progress,
}: LayOutTask): Promise<void> {
  enterStage(progress, "reading");
  const { size } = await stat(file);
  const columns = { mapping: answers?.mapping, timeZone: answers?.timeZone ?? null, builtOn };
  const request = { path: file, sizeBytes: size, model, ...columns, progress, helper: null };
  const decoded = await decodeFile(request);
  if (decoded.kind === "unusable") throw new Error(`A kept file was readable when it came: ${decoded.sentence}`);
  const traces = traceColumns(decoded.log);
  await mkdir(path.dirname(into), { recursive: true });
  const handle = await open(temporary, "wx");
  try {
    const head = {
      rows: decoded.log.rows,
      columns: traces.map(({ key, label, unit, group }) => ({ key, label, unit, group })),
    };
    await handle.write(JSON.stringify(head).padEnd(HEAD_BYTES, " "));
    await handle.write(bytesOf(Float64Array.from(decoded.log.timeS)));
    for (const { values } of traces) await handle.write(bytesOf(Float32Array.from(values)));
    for (const { values } of traces) {
      const { lowest, highest } = lowestAndHighest(values, values, BLOCK_ROWS);
      await handle.write(bytesOf(Float32Array.from(lowest, orNaN)));
      await handle.write(bytesOf(Float32Array.from(highest, orNaN)));
    }
  } catch (error) {
    await handle.close();
    await rm(temporary, { force: true });
    throw error;
  }
  await handle.close();
  await rename(temporary, into);
}

function orNaN(value: number | null): number {
  return value ?? Number.NaN;
}

function bytesOf(numbers: Float64Array | Float32Array): Uint8Array {
  return new Uint8Array(numbers.buffer, numbers.byteOffset, numbers.byteLength);
}
