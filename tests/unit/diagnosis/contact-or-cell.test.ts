import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { type PlainPack, simulatePack } from "../../support/plain-pack";
import { seededRandom } from "../../support/seeded-random";
import { fullUse } from "../../support/use-of-a-pack";

function found(pack: Partial<PlainPack>, strayMillivolt = 0) {
  const log = simulatePack({ seed: 12, model: plainModel, acts: fullUse, intervalS: 2, ...pack });
  const random = seededRandom(3);
  const stray = () => (random() < 0.1 ? (strayMillivolt / 1000) * (random() < 0.5 ? -1 : 1) : 0);
  const judged = { ...log, cellVoltagesV: log.cellVoltagesV.map((column) => column.map((volt) => volt + stray())) };
  return diagnose({ log: judged, summary: summaryOf(log), model: plainModel }).findings;
}

/** Open for so many s of every 35, at which it adds 0.5 mOhm to the 0.9 of a group. */
const openFor = (seconds: number) => (hour: number) => (Math.floor(hour * 3600) % 35 < seconds ? 0.5 : 0);

test("a contact that is seldom open is told by how little it follows the load, though it hardly adds to the mean", () => {
  const [first] = found({ jointMilliohm: { 5: openFor(6) } });
  expect(first).toMatchObject({ fault: "high-resistance-joint", groups: [5] });
  expect(first?.evidenceFor.join(" ")).toContain("does not follow the load");
});

test("readings that stray in every group are no contact of one: an aged cell among them is told as a cell", () => {
  const [first] = found({ resistanceFactor: { 10: 1.26 } }, 10);
  expect(first).toMatchObject({ fault: "high-resistance-cell", groups: [10] });
});

test("groups read in steps of 10 mV are exactly alike or a step apart, and none of a sound pack is told as a contact", () => {
  for (const seed of [1, 2]) {
    const named = found({ seed, intervalS: 5, noiseMillivolt: 0.4, resolutionMillivolt: 10 });
    expect(named.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
  }
});
