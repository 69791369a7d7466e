import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { countedCycles } from "@/lib/readings/measure/believable-cycles";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

// Under 60 % of rated capacity a weak group counts as damaged (reference, class B of F1).

test("a group at 80 % of its neighbours is damaged where the neighbours themselves hold 70 % of the rating", () => {
  const classOf = (median: number, factor: number, model = plainModel) => {
    const capacityFactor = Object.fromEntries(Array.from({ length: 16 }, (_, index) => [index + 1, median]));
    const log = simulatePack({
      seed: 8,
      model: plainModel,
      acts: fullUse,
      intervalS: 5,
      capacityFactor: { ...capacityFactor, 4: median * factor },
    });
    const { findings } = diagnose({ log, summary: summaryOf(log), model });
    return findings.find(({ fault }) => fault === "weak-cell");
  };
  expect(classOf(1, 0.8)).toMatchObject({ groups: [4], safetyClass: "C" });
  expect(classOf(0.7, 0.8)).toMatchObject({ groups: [4], safetyClass: "B" });
  // Without the pack's own curve no Ah are known: neither sound nor damaged.
  const { openCircuit: _, ...generic } = plainModel;
  const untold = classOf(1, 0.7, generic);
  expect(untold).toMatchObject({ groups: [4], safetyClass: "U" });
  expect(untold?.evidenceAgainst.join(" ")).toContain("How many Ah the pack still holds is not told");
});

const log = simulatePack({ seed: 8, model: plainModel, acts: fullUse, intervalS: 10 });

function counted(countOf: (row: number) => number, builtDaysAgo: number | null = null) {
  const startUnixS = 1_700_000_000;
  const cycleCount = Float64Array.from(log.timeS, (_, row) => countOf(row));
  const survey = surveyRows({ ...log, startUnixS, cycleCount }, plainModel.ratedCapacityAh);
  return countedCycles(survey, plainModel, builtDaysAgo === null ? null : startUnixS - builtDaysAgo * 86_400);
}

test("a counter is believed where it can be a count of cycles", () => {
  expect(counted(() => 412)).toEqual({ cycles: 412, doubt: null });
  expect(counted((row) => (row < 900 ? 412 : 413))).toEqual({ cycles: 413, doubt: null });
  // The open sample of the Battery Data Format writes 2 pi in every row (known upstream).
  expect(counted(() => 6.283185)?.doubt).toContain("the same in every row");
  // Equivalent full cycles in tenths; and one frame that was cut, or read 65535.
  expect(counted((row) => (row >= 900 ? 412.4 : 412.3))).toEqual({ cycles: 412.4, doubt: null });
  for (const bad of [0, 65_535])
    for (const at of [0, 1, 500, log.rows - 1])
      expect(counted((row) => (row === at ? bad : 412))).toEqual({ cycles: 412, doubt: null });
  expect(counted((row) => 400 - Math.floor(row / 900))?.doubt).toContain("falls");
  expect(counted((row) => 4000 + Math.floor(row / 100))?.doubt).toContain("seems to count starts");
});

test("more cycles than could be charged and ridden since the build are not believed", () => {
  // 40 Ah in at 40 A and out at 120 A take 80 minutes: 18 a day at most.
  expect(counted(() => 4000, 100)?.doubt).toContain("no more than 180");
  expect(counted(() => 1700, 100)?.doubt).toBeNull();
});

test("a health is expected by the pack's own counter, and by none that cannot be true", () => {
  const said = (count: number) => {
    const cycleCount = log.timeS.map(() => count);
    const judged = { ...log, cycleCount };
    const { measurements, suggestion, findings } = diagnose({
      log: judged,
      summary: summaryOf(judged),
      model: plainModel,
    });
    const told = [...findings.flatMap(({ evidenceAgainst }) => evidenceAgainst), ...suggestion.missing].join(" ");
    return { health: measurements.find(({ name }) => name === "state-of-health")?.conditions, told, measurements };
  };
  expect(said(412).health).toContain("expected at 412 cycles by its own counter");
  const untrue = said(6.283185);
  expect(untrue.health).toContain("no cycle count can be believed");
  expect(untrue.told).toContain("says 6.28 cycles");
  expect(untrue.measurements.map(({ name }) => name)).not.toContain("cycle-count");
});
