import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import type { PackModel } from "@/lib/packs/pack-model";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

// The cells follow Ecker2015 (diagnostics.md 1.8), flattest between 45 and 50 % of charge: 1.4 mV per %.

const { openCircuit: _own, ...withoutCurve } = plainModel;

/** Sixty hours of rest after a ride of so many minutes; group 6 loses so many % of its 40 Ah a day, by hand 1 % = 400 mAh. */
function rested(minutes: number, percentPerDay: number, model: PackModel = plainModel) {
  const acts = [
    ...fullUse,
    { act: "ride", minutes, meanA: 28, peakA: 140 } as const,
    { act: "rest", hours: 60 } as const,
  ];
  const leakA = percentPerDay === 0 ? {} : { 6: (percentPerDay / 100) * (plainModel.ratedCapacityAh / 24) };
  const log = simulatePack({ seed: 900 + minutes, model: plainModel, acts, intervalS: 120, leakA });
  const diagnosis = diagnose({ log, summary: summaryOf(log), model });
  const leak = diagnosis.findings.find(({ fault }) => fault === "self-discharge");
  return { ...diagnosis, leak, said: leak?.evidenceFor.join(" ") ?? "" };
}

test.each([16, 30, 42, 50, 60])(
  "where only a curve of usual cells is known, after %i min of riding a leak of 1.2 percent a day is told without false limits, and set apart",
  (minutes) => {
    const { leak, said, unseen, suggestion } = rested(minutes, 1.2, withoutCurve);
    expect(said).not.toMatch(/% per day \(95 % limits|mA|ohm/);
    if (leak === undefined) {
      expect(suggestion.remedy).toBe("cannot-tell");
      expect(unseen.map(({ fault }) => fault)).toContain("self-discharge");
      return;
    }
    expect(leak).toMatchObject({ groups: [6], safetyClass: "A1" });
    const most = Number(/it may be up to ([\d.]+) % of charge per day/.exec(said)?.[1]);
    expect(most).toBeGreaterThan(1.2);
  },
);

// Where the drift itself is known to a tenth of a millivolt, the upper limit of 0.6 % a day may lie under what sets a pack apart.
const apart = "that may be up to 1\\.[0-4] % of charge per day, and from 1\\.0 on a pack is set apart";
test.each([
  [46, 0.6, "that is 0\\.[2-5]\\d to (?:0\\.[7-9]\\d) % of charge per day\\. Repeat the rest"],
  [54, 0.6, apart],
  [54, 0.75, apart],
])(
  "after %i min a leak of %f percent a day on the flat part of the model's own curve is watched, not sound",
  (minutes, percent, amount) => {
    const { findings, suggestion, unseen } = rested(minutes, percent);
    expect(findings.map(({ fault }) => fault)).not.toContain("no-fault-found");
    expect(suggestion.remedy).toBe("cannot-tell");
    const leaks = unseen.filter(({ fault }) => fault === "self-discharge").map(({ because }) => because);
    expect(leaks[0]).toMatch(
      new RegExp(`^Watch group 6, (?:0\\.[789]\\d|1\\.0\\d) mV per day .* At this charge ${amount}`),
    );
    expect(leaks.join(" ")).not.toContain("A slow leak cannot be seen");
  },
);

test.each([46, 50, 54])(
  "a pack that leaks nowhere, rested on the flat part after %i min, is watched for nothing",
  (minutes) => {
    const { findings, unseen } = rested(minutes, 0);
    expect(findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
    expect(unseen.map(({ because }) => because).join(" ")).not.toContain("Watch group");
  },
);
