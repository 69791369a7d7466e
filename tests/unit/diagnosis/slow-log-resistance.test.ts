import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { buildLog, evenTimes, probe, summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { seededNormal, seededRandom } from "../../support/seeded-random";

const ohmic = 0.0008;
/** Ohm and s of the slow part: at t after a step it adds slow · (1 - exp(-t / lasts)), closed form of one RC branch. */
const slow = 0.0004;
const lastsS = 20;

/** An hour of 40 A, one minute on and one off, at half charge; rows at this interval, the first of a step `lateS` after it. */
function pulses(intervalS: number, lateS: number) {
  const rows = Math.round(3600 / intervalS);
  const normal = seededNormal(seededRandom(3));
  const timeS = evenTimes(rows, intervalS);
  const on = (at: number) => Math.floor((at + lateS) / 60) % 2 === 1;
  const slowAt = new Float64Array(rows);
  let branch = 0;
  let at = lateS;
  const stepS = 0.1;
  for (let row = 0; row < rows; row += 1) {
    for (; at < row * intervalS + lateS; at += stepS)
      branch += ((Math.floor(at / 60) % 2 === 1 ? -40 * slow : 0) - branch) * (1 - Math.exp(-stepS / lastsS));
    slowAt[row] = branch;
  }
  const cellVoltagesV = Array.from({ length: 16 }, () =>
    timeS.map((seconds, row) => 3.79 + (on(seconds) ? -40 * ohmic : 0) + (slowAt[row] ?? 0) + 0.0003 * normal()),
  );
  return buildLog({
    timeS,
    currentA: timeS.map((seconds) => (on(seconds) ? -40 : 0) + 0.02 * normal()),
    packVoltageV: timeS.map((_, row) => cellVoltagesV.reduce((sum, column) => sum + (column[row] ?? 0), 0)),
    cellVoltagesV,
    temperatures: [probe("Temperature T1", new Float64Array(rows).fill(22))],
  });
}

/** mOhm so many s after a step, by the closed form. */
const after = (seconds: number) => 1000 * (ohmic + slow * (1 - Math.exp(-seconds / lastsS)));

// diagnostics.md 1.5: with 10 s logging only R10s+ exists; values at other times after the step are not comparable.
test.each([5, 10])(
  "a log of %d s states the resistance 10 s after a step or later, under a name of its own",
  (intervalS) => {
    const log = pulses(intervalS, 2);
    const { measurements } = diagnose({ log, summary: summaryOf(log), model: plainModel });
    const found = measurements.filter(({ name, group }) => name === "resistance-10s-or-later" && group !== null);
    expect(found).toHaveLength(16);
    for (const { value, conditions } of found) {
      expect(value).toBeGreaterThan(after(10) - 0.02);
      expect(value).toBeLessThan(after(10 + intervalS) + 0.02);
      expect(conditions).toContain(`read 10 to ${10 + intervalS} s after the step`);
    }
    expect(measurements.map(({ name }) => name)).not.toContain("resistance-10s");
    expect(measurements.map(({ name }) => name).join(" ")).not.toMatch(/resistance-1s/);
  },
);

test("a log of 1 s states it at 1 s and at 10 s, and one of 15 s at neither", () => {
  const names = (intervalS: number) => {
    const log = pulses(intervalS, 0);
    return new Set(diagnose({ log, summary: summaryOf(log), model: plainModel }).measurements.map(({ name }) => name));
  };
  expect(names(1)).toContain("resistance-10s");
  expect(names(1)).toContain("resistance-1s");
  expect([...names(15)].join(" ")).not.toMatch(/resistance-10?s/);
});
