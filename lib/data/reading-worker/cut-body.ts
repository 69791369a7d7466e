import { readSync } from "node:fs";
import type { BodyPlan } from "@/lib/readings/plan-body";
import type { Piece } from "./reading-task";

/** Smaller pieces than this are not worth a second thread. Engineering default, measured: starting one costs a few milliseconds. */
const SMALLEST_PIECE_BYTES = 2 << 20;
const MOST_PIECES = 4;
/** Looked through for a line end: the longest line that is read. */
const WINDOW_BYTES = 1 << 16;
/** Room beyond the rows that the first lines let expect, so that hardly any piece has to move. */
const SPARE_ROOM = 1.15;
const lineFeed = 10;

export interface CutBody {
  readonly pieces: readonly Piece[];
  /** Where the last whole line ends; what follows is a line without an end. */
  readonly tailAt: number;
}

/** Cuts the rows of a file into pieces of whole lines; null where it is too small for that or shows no line ends to cut at. */
export function cutBody(
  file: number,
  plan: BodyPlan,
  head: Uint8Array,
  from: number,
  sizeBytes: number,
): CutBody | null {
  const count = Math.min(MOST_PIECES, Math.floor((sizeBytes - from) / SMALLEST_PIECE_BYTES));
  if (count < 2) return null;
  const tailAt = lastLineEnd(file, sizeBytes);
  if (tailAt === null) return null;
  const ends = Array.from({ length: count }, (_, at) =>
    at === count - 1 ? tailAt : firstLineEnd(file, from + Math.floor(((tailAt - from) * (at + 1)) / count)),
  );
  const bytesPerRow = meanRowBytes(head, plan.firstRowAt);
  const pieces: Piece[] = [];
  let start = from;
  let firstRow = 0;
  for (const end of ends) {
    if (end === null || end <= start) return null;
    const rows = Math.ceil((SPARE_ROOM * (end - start)) / bytesPerRow) + 64;
    pieces.push({ from: start, to: end, firstRow, rows });
    start = end;
    firstRow += rows;
  }
  return { pieces, tailAt };
}

function meanRowBytes(head: Uint8Array, from: number): number {
  let lines = 0;
  for (let at = from; at < head.length; at++) if (head[at] === lineFeed) lines++;
  return Math.max(2, (head.length - from) / Math.max(1, lines));
}

/** Place after the first line feed from `at` on; null where none comes soon. */
function firstLineEnd(file: number, at: number): number | null {
  const window = new Uint8Array(WINDOW_BYTES);
  const found = window.subarray(0, readSync(file, window, 0, window.length, at)).indexOf(lineFeed);
  return found < 0 ? null : at + found + 1;
}

function lastLineEnd(file: number, sizeBytes: number): number | null {
  const window = new Uint8Array(WINDOW_BYTES);
  const at = Math.max(0, sizeBytes - window.length);
  const found = window.subarray(0, readSync(file, window, 0, window.length, at)).lastIndexOf(lineFeed);
  return found < 0 ? null : at + found + 1;
}
