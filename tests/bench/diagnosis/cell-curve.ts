/** Rest voltage of a real cell, V, at a charge in % (also a little beyond 0 and 100). */
export type CellCurve = (percent: number) => number;

const gridPerPercent = 20;
const fromPercent = -30;
const toPercent = 130;

/**
 * A smooth curve through a table by Catmull-Rom segments, with a slow wave of `waveV` added: no pack follows the table of
 * its data sheet to the millivolt. Below empty it falls ever more steeply, above full it rises half as steeply again as just below.
 */
export function cellCurve(table: readonly (readonly [number, number])[], waveV: number, phase: number): CellCurve {
  const grid = new Float64Array((toPercent - fromPercent) * gridPerPercent + 1);
  for (const place of grid.keys()) {
    const percent = fromPercent + place / gridPerPercent;
    grid[place] = smooth(table, percent) + waveV * Math.sin((2 * Math.PI * percent) / 60 + phase);
  }
  return (percent) => {
    const at = Math.min(grid.length - 1.001, Math.max(0, (percent - fromPercent) * gridPerPercent));
    const below = Math.floor(at);
    const low = grid[below] ?? 0;
    return low + (at - below) * ((grid[below + 1] ?? low) - low);
  };
}

function smooth(table: readonly (readonly [number, number])[], percent: number): number {
  const first = table[0] ?? [0, 0];
  const last = table.at(-1) ?? [100, 0];
  if (percent < first[0]) return Math.max(0.05, first[1] + 0.045 * percent - 0.004 * percent * percent);
  if (percent >= last[0]) {
    const before = table.at(-2) ?? first;
    return last[1] + Math.max(0.012, (1.5 * (last[1] - before[1])) / (last[0] - before[0])) * (percent - last[0]);
  }
  const at = Math.max(
    0,
    table.findIndex(([right]) => right > percent),
  );
  const [x1, y1] = table[at - 1] ?? first;
  const [x2, y2] = table[at] ?? last;
  const before = table[at - 2] ?? [x1 - (x2 - x1), y1 - (y2 - y1)];
  const after = table[at + 1] ?? [x2 + (x2 - x1), y2 + (y2 - y1)];
  const width = x2 - x1;
  const t = (percent - x1) / width;
  const m1 = ((y2 - before[1]) / (x2 - before[0])) * width;
  const m2 = ((after[1] - y1) / (after[0] - x1)) * width;
  const t2 = t * t;
  const t3 = t2 * t;
  return (2 * t3 - 3 * t2 + 1) * y1 + (t3 - 2 * t2 + t) * m1 + (3 * t2 - 2 * t3) * y2 + (t3 - t2) * m2;
}
