import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { simulatePack } from "../../support/plain-pack";
import { parkedUse } from "../../support/use-of-a-pack";

/** Parked after a short ride, read to 5 mV; group 7 loses so many % of its charge a day. */
function parked(percentPerDay: number, noiseMillivolt: number) {
  const leakA = percentPerDay === 0 ? {} : { 7: (percentPerDay / 100) * (plainModel.ratedCapacityAh / 24) };
  const log = simulatePack({
    seed: 71,
    model: plainModel,
    acts: parkedUse,
    intervalS: 30,
    resolutionMillivolt: 5,
    noiseMillivolt,
    leakA,
  });
  return diagnose({ log, summary: summaryOf(log), model: plainModel });
}

// At about 65 % of charge Ecker2015 rises by 5 to 8 mV per %: 0.8 % a day is about 5 mV a day, one step of the readings.
test.each([1.2, 2])(
  "a leak of one step a day shows in readings that %f mV of noise carry across their steps",
  (noise) => {
    const leak = parked(0.8, noise).findings.find(({ fault }) => fault === "self-discharge");
    expect(leak).toMatchObject({ groups: [7] });
    const [, low, high] =
      /% per day \(95 % limits ([\d.]+) to ([\d.]+)\)/.exec(leak?.evidenceFor.join(" ") ?? "") ?? [];
    expect(Number(low)).toBeLessThan(0.8);
    expect(Number(high)).toBeGreaterThan(0.8);
  },
);

test.each([0.05, 0.5, 1.2, 2])(
  "a pack that leaks nowhere shows no leak in steps of 5 mV, with %f mV of noise",
  (noise) => {
    const { findings, unseen } = parked(0, noise);
    expect(findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
    expect(unseen.map(({ because }) => because).join(" ")).not.toContain("Watch group");
  },
);

test("without noise to carry them across, such steps are said to hide a leak", () => {
  const { unseen } = parked(0, 0.05);
  expect(unseen.filter(({ fault }) => fault === "self-discharge").map(({ because }) => because)).toEqual([
    expect.stringMatching(/^A slow leak cannot be seen here: the drift of \d+ of 16 groups is known only to/),
  ]);
});
