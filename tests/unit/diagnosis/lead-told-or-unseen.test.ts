import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

test("a lead that is told is not also among what could not be seen", () => {
  const judged = (outsideMilliohm: number) => {
    const log = simulatePack({ seed: 8, model: plainModel, acts: fullUse, intervalS: 2, outsideMilliohm });
    const { findings, unseen, suggestion } = diagnose({ log, summary: summaryOf(log), model: plainModel });
    return {
      told: findings.some(({ fault }) => fault === "main-lead"),
      unseen: unseen.some(({ fault }) => fault === "main-lead"),
      said: suggestion.missing.some((one) => one.startsWith("A bad lead")),
    };
  };
  expect(judged(14)).toEqual({ told: true, unseen: false, said: false });
  // A little of it is no finding, and what is usual for the model is not known.
  expect(judged(4)).toEqual({ told: false, unseen: true, said: true });
});
