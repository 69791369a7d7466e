import { LEAST_WINDOW_ROWS } from "@/lib/readings/trace-window";

export interface Span {
  readonly fromRow: number;
  readonly toRow: number;
}

export const moves = ["earlier", "later", "closer", "wider", "whole"] as const;
export type Move = (typeof moves)[number];

/** Share of the span that one step moves, and what is left of it after one step closer. */
const STEP = 0.25;
const CLOSER = 0.5;

/** The span after a step, inside the log and never narrower than what shows something. */
export function moved({ fromRow, toRow }: Span, move: Move, rowsInLog: number): Span {
  const width = toRow - fromRow;
  const middle = (fromRow + toRow) / 2;
  const step = Math.max(1, Math.round(STEP * width));
  switch (move) {
    case "earlier":
      return within({ fromRow: fromRow - step, toRow: toRow - step }, rowsInLog);
    case "later":
      return within({ fromRow: fromRow + step, toRow: toRow + step }, rowsInLog);
    case "closer":
      return around(middle, width * CLOSER, rowsInLog);
    case "wider":
      return around(middle, width / CLOSER, rowsInLog);
    case "whole":
      return { fromRow: 0, toRow: rowsInLog };
  }
}

/** A span that shows a place with as much again on each side, so that what was before and after is seen. */
export function spanOfPlace({ fromRow, toRow }: Span, rowsInLog: number): Span {
  const width = Math.max(LEAST_WINDOW_ROWS, toRow - fromRow + 1);
  return around((fromRow + toRow) / 2, 2 * width, rowsInLog);
}

function around(middle: number, width: number, rowsInLog: number): Span {
  const wide = Math.round(Math.min(rowsInLog, Math.max(LEAST_WINDOW_ROWS, width)));
  const fromRow = Math.round(middle - wide / 2);
  return within({ fromRow, toRow: fromRow + wide }, rowsInLog);
}

function within({ fromRow, toRow }: Span, rowsInLog: number): Span {
  const width = Math.min(rowsInLog, toRow - fromRow);
  const from = Math.min(Math.max(0, fromRow), rowsInLog - width);
  return { fromRow: from, toRow: from + width };
}

/** Which step a key asks for; null for any other key, which must keep its meaning. */
export function moveOfKey(key: string): Move | null {
  switch (key) {
    case "ArrowLeft":
      return "earlier";
    case "ArrowRight":
      return "later";
    case "+":
    case "=":
      return "closer";
    case "-":
      return "wider";
    case "0":
    case "Home":
      return "whole";
    default:
      return null;
  }
}
