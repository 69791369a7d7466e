import { chainLadder } from "@/lib/stats/chain-ladder";
import { type DelayCell, type Nowcast, nowcastDelays } from "@/lib/stats/delay-nowcast";
import type { Refused } from "./weibull-document";

/** What has come in so far of the returns of each period, and what is still to come. */
export interface ReportedDocument {
  /** Poisson counts of period and delay; errors are to be multiplied by the root of the dispersion. */
  readonly nowcast: Nowcast;
  /** The same by chain ladder with standard errors that assume no distribution. */
  readonly chainLadder:
    | {
        readonly factors: readonly number[];
        readonly rows: readonly {
          readonly latest: number;
          readonly ultimate: number;
          readonly standardError: number;
        }[];
        readonly outstanding: number;
        readonly standardError: number;
      }
    | Refused;
}

/** Every period has a cell for every delay: a stray date in place of a position would fill the memory. */
const LARGEST_POSITION = 1000;

/** The document of a file of counts by period and delay; refused with a sentence where the cells are no triangle. */
export function reportedDocument(cells: readonly DelayCell[]): ReportedDocument | Refused {
  if (cells.some(({ period, delay }) => Math.max(period, delay) > LARGEST_POSITION))
    return { refused: `The file holds a position above ${LARGEST_POSITION}.` };
  const unnumbered = notFromNought(cells);
  if (unnumbered !== null) return { refused: unnumbered };
  try {
    return { nowcast: nowcastDelays(cells), chainLadder: ladder(cells) };
  } catch (error) {
    if (error instanceof RangeError) return { refused: `The file holds ${error.message}.` };
    throw error;
  }
}

/** Numbered from 1, or by years, an empty first period would be invented. */
function notFromNought(cells: readonly DelayCell[]): string | null {
  for (const position of ["period", "delay"] as const) {
    const first = Math.min(...cells.map((cell) => cell[position]));
    if (first > 0 && Number.isFinite(first))
      return `The first ${position} of the file is ${first}: periods and delays are positions counted from 0.`;
  }
  return null;
}

function ladder(cells: readonly DelayCell[]): ReportedDocument["chainLadder"] {
  const rows: number[][] = [];
  for (const { period, delay, count } of cells.toSorted((a, b) => a.period - b.period || a.delay - b.delay)) {
    const row = rows[period] ?? [];
    rows[period] = row;
    if (delay !== row.length) return { refused: `Period ${period} lacks a count before delay ${delay}.` };
    row.push((row.at(-1) ?? 0) + count);
  }
  try {
    const { factors, rows: all, outstanding, standardError } = chainLadder(Array.from(rows, (row) => row ?? []));
    return { factors, rows: all, outstanding, standardError };
  } catch (error) {
    if (error instanceof RangeError) return { refused: `No chain ladder: ${error.message}.` };
    throw error;
  }
}
