import { expect, test } from "vitest";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { sampledChargeErrorAh } from "@/lib/readings/measure/sampled-charge";
import { seededRandom } from "@/lib/stats/seeded-random";
import { buildLog, constant, evenTimes } from "../../../support/log-builder";

/** 1 s steps of a load that changes every five seconds. */
function fastLoad(random: () => number, seconds: number): number[] {
  let amp = 0;
  return Array.from({ length: seconds }, (_, at) => {
    if (at % 5 === 0) amp = -60 * random();
    return amp;
  });
}

const surveyed = (currentA: readonly number[], intervalS: number) =>
  surveyRows(
    buildLog({
      timeS: evenTimes(currentA.length, intervalS),
      currentA: Float64Array.from(currentA),
      cellVoltagesV: [constant(currentA.length, 3.7)],
    }),
    40,
  );

test("the error told for rows of half a minute is the scatter of their counts about the charge that truly flowed", () => {
  const random = seededRandom(5);
  const misses: number[] = [];
  const told: number[] = [];
  for (let ride = 0; ride < 200; ride += 1) {
    const load = fastLoad(random, 2400);
    const flowedAh = load.reduce((sum, amp) => sum + amp, 0) / 3600;
    const rows = load.filter((_, at) => at % 30 === 0);
    const countedAh = (rows.reduce((sum, amp) => sum + amp, 0) * 30) / 3600;
    misses.push((countedAh - flowedAh) ** 2);
    told.push(sampledChargeErrorAh(surveyed(rows, 30), 0, rows.length - 1) ** 2);
  }
  const sum = (values: readonly number[]) => values.reduce((total, one) => total + one, 0);
  expect(Math.sqrt(sum(told) / sum(misses))).toBeGreaterThan(0.9);
  expect(Math.sqrt(sum(told) / sum(misses))).toBeLessThan(1.3);
});

test("a load that does not change is counted exactly", () => {
  expect(sampledChargeErrorAh(surveyed(new Array(80).fill(-20), 30), 0, 79)).toBe(0);
});
