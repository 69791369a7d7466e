import type { BodyPart } from "@/lib/readings/body-part";
import type { ColumnTable } from "@/lib/readings/column-table";
import { noRowsYet, type RowProgress } from "@/lib/readings/row-reader";
import { sharedFloats } from "@/lib/readings/shared-columns";
import { sharedBuffer } from "./read-pieces";
import type { ReadPiece, SharedBody } from "./reading-task";

export interface JoinedPieces {
  readonly table: ColumnTable;
  /** In the order of the file, with the line numbers of the file. */
  readonly parts: readonly BodyPart[];
  readonly progress: RowProgress;
}

/** Closes the gaps between the pieces in the shared columns, in the order of the file, and counts their lines on. */
export function joinPieces(body: SharedBody, read: readonly ReadPiece[]): JoinedPieces {
  const inOrder = read.toSorted((a, b) => a.piece - b.piece);
  const total = inOrder.reduce((sum, { rows }) => sum + rows, 0);
  const room = body.line.byteLength / 4;
  const fits = total < room;
  const capacity = fits ? room : total + 1;
  const columns = body.columns.map((shared, slot) => {
    const column = fits ? shared : sharedFloats(capacity);
    let at = 0;
    for (const { piece, rows, moved } of inOrder) {
      const from = moved?.columns[slot] ?? shared.subarray(body.pieces[piece]?.firstRow ?? 0);
      // Pieces only ever move towards the start, over rows that have been moved before.
      column.set(from.subarray(0, rows), at);
      at += rows;
    }
    return column;
  });

  const line = new Int32Array(fits ? body.line : sharedBuffer(4 * capacity));
  const parts: BodyPart[] = [];
  let at = 0;
  let { fewestDecimals, mostDecimals } = noRowsYet as RowProgress;
  let linesBefore = body.plan.firstLine - 1;
  for (const { piece, rows, moved, part } of inOrder) {
    const from = moved?.line ?? new Int32Array(body.line, 4 * (body.pieces[piece]?.firstRow ?? 0), rows);
    for (let row = 0; row < rows; row++) line[at + row] = (from[row] ?? 0) + linesBefore;
    at += rows;
    const shift = linesBefore;
    parts.push({
      ...part,
      rejected: part.rejected.map(({ line: own, reason }) => ({ line: own + shift, reason })),
      serials: part.serials.map(({ serial, line: own }) => ({ serial, line: own + shift })),
      headersAgain: part.headersAgain.map((own) => own + shift),
      secondTableAt: part.secondTableAt === null ? null : part.secondTableAt + shift,
    });
    fewestDecimals = Math.min(fewestDecimals, part.progress.fewestDecimals);
    mostDecimals = Math.max(mostDecimals, part.progress.mostDecimals);
    linesBefore += part.progress.nextLine - 1;
  }
  return {
    table: { columns, line, capacity, rows: total },
    parts,
    progress: { fewestDecimals, mostDecimals, nextLine: linesBefore + 1 },
  };
}
