import "server-only";
import { createHash, randomUUID } from "node:crypto";
import { type FileHandle, open, stat } from "node:fs/promises";
import path from "node:path";
import { z } from "zod";
import type { PackModel } from "@/lib/packs/pack-model";
import type { ColumnAnswers } from "@/lib/readings/column-questions";
import { parserVersion } from "@/lib/readings/read-readings";
import type { TraceColumn } from "@/lib/readings/trace-columns";
import { BLOCK_ROWS } from "@/lib/readings/trace-window";
import { readEnvironment } from "../env";
import { HEAD_BYTES } from "../reading-worker/column-layout";
import { readingPool } from "../reading-worker/reading-pool";
import { pathOfKept } from "./file-store";

/**
 * A file's columns laid out so that any stretch of any of them can be read alone: time as 8-byte numbers, then every
 * column as 4-byte numbers (seven digits: finer than any logger), then lowest and highest of each block of rows. It is
 * made from the original bytes when somebody first looks closer, can be thrown away at any time, and is evidence of nothing.
 */
export interface TraceStore {
  readonly rows: number;
  readonly columns: readonly Pick<TraceColumn, "key" | "label" | "unit" | "group">[];
  readonly times: (fromRow: number, toRow: number) => Promise<Float64Array>;
  readonly values: (column: number, fromRow: number, toRow: number) => Promise<Float32Array>;
  readonly blocks: (
    column: number,
    fromBlock: number,
    toBlock: number,
  ) => Promise<{ readonly lowest: Float32Array; readonly highest: Float32Array }>;
  readonly close: () => Promise<void>;
}

const headSchema = z.object({
  rows: z.int().min(1),
  columns: z.array(
    z.object({
      key: z.string(),
      label: z.string(),
      unit: z.enum(["V", "A", "degC", "%"]),
      group: z.int().nullable(),
    }),
  ),
});

/** A kept file and all its columns were read with. */
export interface KeptLog {
  readonly sha256: string;
  readonly model: PackModel;
  readonly answers: ColumnAnswers | null;
  /** YYYY-MM-DD. */
  readonly builtOn: string;
}

/** Two people who look closer at the same file at once must not make its columns twice. */
const making = new Map<string, Promise<void>>();

/** Opens the columns of a kept file, making them first where nobody looked closer before. */
export async function openTraceStore(log: KeptLog): Promise<TraceStore> {
  const file = pathOf(log);
  const handle = await open(file, "r").catch((error: NodeJS.ErrnoException) => {
    if (error.code !== "ENOENT") throw error;
    return null;
  });
  if (handle !== null) return storeIn(handle);
  let made = making.get(file);
  if (made === undefined) {
    made = make(file, log).finally(() => making.delete(file));
    making.set(file, made);
  }
  await made;
  return storeIn(await open(file, "r"));
}

/** In a thread of its own, so that a long file keeps nobody else waiting for a page. */
async function make(file: string, { sha256, ...known }: KeptLog): Promise<void> {
  const kept = pathOfKept(sha256);
  const into = path.resolve(file);
  return readingPool().layOut({
    path: kept,
    sizeBytes: (await stat(kept)).size,
    ...known,
    into,
    temporary: `${into}.${randomUUID()}`,
  });
}

async function storeIn(handle: FileHandle): Promise<TraceStore> {
  const head = headSchema.parse(JSON.parse((await bytesAt(handle, 0, HEAD_BYTES)).toString("utf8")));
  const { rows, columns } = head;
  const blocks = Math.ceil(rows / BLOCK_ROWS);
  const valuesAt = HEAD_BYTES + 8 * rows;
  const blocksAt = valuesAt + 4 * rows * columns.length;
  const floats = async (at: number, count: number) => {
    const bytes = await bytesAt(handle, at, 4 * count);
    return new Float32Array(bytes.buffer, bytes.byteOffset, count);
  };
  return {
    rows,
    columns,
    times: async (fromRow, toRow) => {
      const bytes = await bytesAt(handle, HEAD_BYTES + 8 * fromRow, 8 * (toRow - fromRow));
      return new Float64Array(bytes.buffer, bytes.byteOffset, toRow - fromRow);
    },
    values: (column, fromRow, toRow) => floats(valuesAt + 4 * (rows * column + fromRow), toRow - fromRow),
    blocks: async (column, fromBlock, toBlock) => {
      const at = blocksAt + 8 * blocks * column + 4 * fromBlock;
      return {
        lowest: await floats(at, toBlock - fromBlock),
        highest: await floats(at + 4 * blocks, toBlock - fromBlock),
      };
    },
    close: () => handle.close(),
  };
}

async function bytesAt(handle: FileHandle, position: number, length: number): Promise<Buffer> {
  const buffer = Buffer.alloc(length);
  const { bytesRead } = await handle.read(buffer, 0, length, position);
  if (bytesRead < length) throw new Error("The columns of a readings file end too early");
  return buffer;
}

/** Under the bytes, the decoder, the model, what was said of the columns and when the pack was built: a change of any makes another log of the same bytes. */
function pathOf({ sha256, model, answers, builtOn }: KeptLog): string {
  if (!/^[0-9a-f]{64}$/.test(sha256)) throw new RangeError("sha256: 64 hexadecimal digits");
  const digest = createHash("sha256")
    .update(JSON.stringify([model, answers, builtOn]))
    .digest("hex")
    .slice(0, 12);
  return path.join(
    readEnvironment().dataDir,
    "traces",
    sha256.slice(0, 2),
    `${sha256}-${parserVersion}-${digest}.columns`,
  );
}
