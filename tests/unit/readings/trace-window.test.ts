import fc from "fast-check";
import { expect, test } from "vitest";
import {
  BLOCK_ROWS,
  LEAST_WINDOW_ROWS,
  lowestAndHighest,
  planWindow,
  WINDOW_BUCKETS,
} from "@/lib/readings/trace-window";

test("whatever is asked for, the window lies in the log, holds the rows asked for and has few stretches", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 3_000_000 }),
      fc.double({ min: -1e7, max: 1e7 }),
      fc.double({ min: -1e7, max: 1e7 }),
      (rows, from, to) => {
        const plan = planWindow(rows, from, to);
        expect(plan.fromRow).toBeGreaterThanOrEqual(0);
        expect(plan.toRow).toBeLessThanOrEqual(rows);
        expect(plan.toRow - plan.fromRow).toBeGreaterThanOrEqual(Math.min(rows, LEAST_WINDOW_ROWS));
        expect(plan.buckets).toBeLessThanOrEqual(WINDOW_BUCKETS + 1);
        expect((plan.buckets - 1) * plan.rowsPerBucket).toBeLessThan(plan.toRow - plan.fromRow);
        if (from >= 0 && to <= rows && to - from >= LEAST_WINDOW_ROWS && from + LEAST_WINDOW_ROWS <= rows) {
          expect(plan.fromRow).toBeLessThanOrEqual(from);
          expect(plan.toRow).toBeGreaterThanOrEqual(to);
        }
        if (plan.byBlocks) expect([plan.fromRow % BLOCK_ROWS, plan.rowsPerBucket % BLOCK_ROWS]).toEqual([0, 0]);
      },
    ),
  );
});

test("a few rows are shown one by one", () => {
  expect(planWindow(1_000_000, 500_000, 500_100)).toEqual({
    fromRow: 500_000,
    toRow: 500_100,
    rowsPerBucket: 1,
    buckets: 100,
    byBlocks: false,
  });
});

test("lowest and highest by blocks are those by rows, so no row is left out", () => {
  fc.assert(
    fc.property(
      fc.array(fc.oneof(fc.float({ noNaN: true, noDefaultInfinity: true }), fc.constant(Number.NaN)), {
        minLength: 1,
        maxLength: 400,
      }),
      fc.integer({ min: 1, max: 12 }),
      fc.integer({ min: 1, max: 5 }),
      (values, block, blocksPerStretch) => {
        const kept = lowestAndHighest(values, values, block);
        const orNaN = (value: number | null) => value ?? Number.NaN;
        const byBlocks = lowestAndHighest(kept.lowest.map(orNaN), kept.highest.map(orNaN), blocksPerStretch);
        expect(byBlocks).toEqual(lowestAndHighest(values, values, block * blocksPerStretch));
      },
    ),
  );
});

test("a stretch without a value is null, never a number", () => {
  expect(lowestAndHighest([Number.NaN, Number.NaN, 1], [Number.NaN, Number.NaN, 1], 2)).toEqual({
    lowest: [null, 1],
    highest: [null, 1],
  });
});
