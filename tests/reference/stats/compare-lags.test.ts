import { expect, test } from "vitest";
import { chiSquareTail } from "@/lib/stats/chi-square-tail";
import { compareLags } from "@/lib/stats/compare-lags";

test("truncated lags of two groups are compared as R's proportional hazards score test does, read backwards", () => {
  // R 4.2.2, survival 3.5-3: coxph(Surv(200 - longest - 1, 200 - lag, rep(1, 12)) ~ group)$score = 2.98088810496, p 0.084253030183.
  const lags = [
    ...[3, 5, 8, 11, 14, 20].map((lag, i) => ({ lag, longest: [10, 40, 60, 30, 25, 90][i] ?? 0 })),
    ...[9, 13, 17, 22, 26, 31].map((lag, i) => ({ lag, longest: [50, 20, 70, 45, 33, 80][i] ?? 0 })),
  ];
  const result = compareLags([lags.slice(0, 6), lags.slice(6)]);
  if (result.kind !== "test") throw new Error("a test is expected");
  expect(result.chiSquare).toBeCloseTo(2.98088810496, 9);
  expect(chiSquareTail(result.chiSquare, result.degreesOfFreedom)).toBeCloseTo(0.084253030183, 9);
  // Of six each p is drawn: of the same order as that of chi-square.
  expect(result.draws).toBeGreaterThan(0);
  expect(result.p).toBeGreaterThan(0.05);
  expect(result.p).toBeLessThan(0.12);
});
