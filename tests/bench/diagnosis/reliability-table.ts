import { sayShare } from "./proportion";

interface Stated {
  readonly stated: number;
  readonly right: boolean;
}

/** Stated confidence beside how often it was right, by tenths, with exact 95 % limits and counts; the last line is the Brier score. */
export function reliability(pairs: readonly Stated[]): string[] {
  const rows: string[] = [];
  for (let tenth = 0; tenth < 10; tenth += 1) {
    const within = pairs.filter(({ stated }) => Math.min(9, Math.floor(stated * 10)) === tenth);
    if (within.length === 0) continue;
    const stated = within.reduce((sum, one) => sum + one.stated, 0) / within.length;
    rows.push(
      `stated ${stated.toFixed(2)}: right ${sayShare(within.filter(({ right }) => right).length, within.length)}`,
    );
  }
  const squares = pairs.reduce((sum, { stated, right }) => sum + (stated - (right ? 1 : 0)) ** 2, 0);
  rows.push(
    `Brier score ${(squares / Math.max(1, pairs.length)).toFixed(4)} over ${pairs.length} findings (0 best; 0.25 is a coin)`,
  );
  return rows;
}
