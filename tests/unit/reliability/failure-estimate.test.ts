import { expect, test } from "vitest";
import { failureEstimate } from "@/lib/reliability/failure-estimate";
import { daysAtMonths } from "@/lib/reliability/months-in-service";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { countLives, type Life } from "@/tests/support/lives";

function running(packs: number, days: number): Life[] {
  return Array.from({ length: packs }, (): Life => [0, days, 0]);
}

function failing(packs: number, firstDay: number): Life[] {
  return Array.from({ length: packs }, (_, i): Life => [0, firstDay + i, 1]);
}

function estimate(lives: Life[], months: number) {
  return failureEstimate(kaplanMeier(countLives(lives)), months);
}

test("twelve months are 365.25 days", () => {
  expect(daysAtMonths(12)).toBe(365.25);
});

test("enough failures and packs at risk give an estimate with limits, number at risk and failures", () => {
  const result = estimate([...running(90, 400), ...failing(10, 100)], 12);
  expect(result).toMatchObject({ kind: "estimate", months: 12, ageDays: 365.25, atRisk: 90, failures: 10 });
  if (result.kind !== "estimate") return;
  expect(result.probability).toBeCloseTo(0.1, 12);
  expect(result.lower).toBeLessThan(0.1);
  expect(result.upper).toBeGreaterThan(0.1);
});

test("an age that no pack has reached cannot be told and has nothing to show", () => {
  expect(estimate([...running(90, 300), ...failing(10, 100)], 12)).toEqual({
    kind: "cannot-tell",
    months: 12,
    ageDays: 365.25,
    reason: "age-not-reached",
    atRisk: 0,
    failures: 10,
    soFar: null,
  });
});

test("19 packs at risk are too few and 20 are enough", () => {
  const failures = failing(30, 10);
  expect(estimate([...failures, ...running(19, 400)], 12)).toMatchObject({ reason: "few-at-risk", atRisk: 19 });
  expect(estimate([...failures, ...running(20, 400)], 12)).toMatchObject({ kind: "estimate", atRisk: 20 });
});

test("three failures leave a standard error above half of the estimate and five do not", () => {
  expect(estimate([...running(1000, 400), ...failing(3, 10)], 12)).toMatchObject({
    reason: "few-failures",
    failures: 3,
  });
  expect(estimate([...running(1000, 400), ...failing(5, 10)], 12)).toMatchObject({ kind: "estimate", failures: 5 });
});

test("no failure is no estimate, but it bounds what can be", () => {
  const result = estimate(running(100, 400), 12);
  expect(result).toMatchObject({ kind: "cannot-tell", reason: "few-failures", failures: 0 });
  // Clopper & Pearson, Biometrika 26 (1934) 404-413: two-sided 95 % limit for 0 of 100 is 1 - 0.025^(1/100).
  expect(result.kind === "cannot-tell" && result.soFar?.upper).toBeCloseTo(1 - 0.025 ** 0.01, 12);
});

test("an early risk set that is used up cannot be told, however many are watched later", () => {
  const late = Array.from({ length: 200 }, (): Life => [1, 400, 0]);
  expect(estimate([[0, 2, 1], ...late.map(([, exit]): Life => [2, exit, 0])], 12)).toMatchObject({
    kind: "cannot-tell",
    reason: "early-packs-used-up",
    soFar: null,
  });
});

test("ages on which nobody was watched cannot be told", () => {
  const late = Array.from({ length: 200 }, (_, i): Life => [100, 200 + i, i % 4 === 0 ? 1 : 0]);
  expect(estimate(late, 6)).toMatchObject({ kind: "cannot-tell", reason: "nobody-watched-at-this-age", soFar: null });
});

test("no packs at all cannot be told", () => {
  expect(estimate([], 3)).toMatchObject({ kind: "cannot-tell", reason: "age-not-reached", atRisk: 0, soFar: null });
});
