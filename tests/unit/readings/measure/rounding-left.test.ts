import { expect, test } from "vitest";
import { noiseBeforeRounding, roundingLeft } from "@/lib/readings/measure/rounding-left";
import { seededNormal, seededRandom } from "../../../support/seeded-random";

/** Means and variances of many rounded readings at even places between two steps, in steps. */
function rounded(noise: number): { readonly left: number; readonly variance: number } {
  const normal = seededNormal(seededRandom(5));
  const places = 40;
  const readings = 4000;
  let squares = 0;
  let variances = 0;
  for (let place = 0; place < places; place += 1) {
    const true_ = (place + 0.5) / places;
    const read = Array.from({ length: readings }, () => Math.round(true_ + noise * normal()));
    const mean = read.reduce((sum, one) => sum + one, 0) / readings;
    squares += (mean - true_) ** 2;
    variances += read.reduce((sum, one) => sum + (one - mean) ** 2, 0) / readings;
  }
  return { left: Math.sqrt(squares / places), variance: variances / places };
}

test.each([0.1, 0.2, 0.3, 0.4])("noise of %f steps leaves on a mean what simulated rounding leaves", (noise) => {
  expect(Math.abs(roundingLeft(noise) - rounded(noise).left)).toBeLessThan(0.006);
});

test("without noise a mean is off by the uniform error of a step, 1/sqrt(12)", () => {
  expect(roundingLeft(0)).toBeCloseTo(1 / Math.sqrt(12), 2);
  expect(noiseBeforeRounding(0)).toBeLessThan(1e-6);
});

test.each([0.1, 0.24, 0.5, 2])("noise of %f steps is told from the readings it made flicker", (noise) => {
  expect(noiseBeforeRounding(rounded(noise).variance) / noise).toBeCloseTo(1, 1);
});
