import { closeSync, openSync, readSync } from "node:fs";
import { type BodyPart, readBodyPart } from "@/lib/readings/body-part";
import type { ColumnTable } from "@/lib/readings/column-table";
import { noRowsYet } from "@/lib/readings/row-reader";
import { addProgress, type ReadPiece, type SharedBody } from "./reading-task";

/** Bytes read at a time: large enough that the reads cost nothing beside the decoding, small enough for the cache. */
const CHUNK_BYTES = 1 << 18;

export const sharedBuffer = (bytes: number): SharedArrayBuffer => new SharedArrayBuffer(bytes);

/** Reads pieces of a body until every piece is taken. Line numbers of a piece count from 1. */
export function readPieces(body: SharedBody): ReadPiece[] {
  const next = new Int32Array(body.next);
  const read: ReadPiece[] = [];
  const file = openSync(body.path, "r");
  try {
    for (;;) {
      const piece = Atomics.add(next, 0, 1);
      if (piece >= body.pieces.length) return read;
      read.push(readPiece(body, file, piece));
    }
  } finally {
    closeSync(file);
  }
}

function readPiece(body: SharedBody, file: number, at: number): ReadPiece {
  const piece = body.pieces[at];
  if (piece === undefined) throw new RangeError(`There is no piece ${at}`);
  const room = { from: piece.firstRow, rows: piece.rows };
  const table: ColumnTable = {
    columns: body.columns.map((column) => column.subarray(room.from, room.from + room.rows)),
    line: new Int32Array(body.line, 4 * room.from, room.rows),
    capacity: room.rows,
    rows: 0,
  };
  const reader = readBodyPart(body.plan, table, { ...noRowsYet, nextLine: 1 }, sharedBuffer);
  let rowsBefore = 0;
  for (const chunk of chunksOf(file, piece.from, piece.to)) {
    reader.push(chunk);
    addProgress(body.progress, table.rows - rowsBefore, chunk.length);
    rowsBefore = table.rows;
  }
  const part: BodyPart = reader.end();
  const moved = table.capacity === room.rows ? null : { columns: table.columns, line: table.line };
  return { piece: at, rows: table.rows, part, moved };
}

/** The bytes from `from` to `to`, in one buffer that is used again for every chunk. */
export function* chunksOf(file: number, from: number, to: number): Generator<Uint8Array> {
  const buffer = new Uint8Array(CHUNK_BYTES);
  let at = from;
  while (at < to) {
    const length = readSync(file, buffer, 0, Math.min(buffer.length, to - at), at);
    if (length === 0) return;
    at += length;
    yield buffer.subarray(0, length);
  }
}
