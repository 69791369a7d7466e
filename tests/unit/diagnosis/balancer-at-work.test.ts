import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { type PlainPack, simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

const pack: PlainPack = { seed: 8, model: plainModel, acts: fullUse, intervalS: 5 };
/** V that a bled group reads less by its two leads, and each neighbour more by the one they share (diagnostics.md 1.10, row 7). */
const ownDropV = 0.03;
const sharedV = ownDropV / 2;

/** Groups 6 and 7 are bled in turn, so that no row is left in which they and their neighbours are not; the file carries the commands. */
function bled(changes: Partial<PlainPack> = {}) {
  const log = simulatePack({ ...pack, ...changes });
  const isBled = (index: number, row: number) => (index === 5 && row % 2 === 0) || (index === 6 && row % 2 === 1);
  const balancingMask = Float64Array.from({ length: log.rows }, (_, row) =>
    Array.from({ length: 16 }, (_bit, index) => (isBled(index, row) ? 2 ** index : 0)).reduce(
      (sum, bit) => sum + bit,
      0,
    ),
  );
  const cellVoltagesV = log.cellVoltagesV.map((column, index) =>
    column.map((volt, row) => {
      const own = isBled(index, row) ? -ownDropV : 0;
      const shared = [index - 1, index + 1].filter((one) => isBled(one, row)).length * sharedV;
      return Math.round((volt + own + shared) * 1000) / 1000;
    }),
  );
  const file = { ...log, balancingMask, cellVoltagesV };
  return diagnose({ log: file, summary: summaryOf(file), model: plainModel });
}

test("groups that read otherwise while a balancer draws are described by its logged commands and hold nothing against the pack", () => {
  const { findings, suggestion } = bled();
  expect(suggestion.missing.join(" ")).not.toContain("moves unlike the others");
  expect(findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
});

test("a weak group is still found beneath a balancer's draw", () => {
  expect(bled({ capacityFactor: { 7: 0.82 } }).findings[0]).toMatchObject({ fault: "weak-cell", groups: [7] });
});
