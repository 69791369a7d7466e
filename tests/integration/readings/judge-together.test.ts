import path from "node:path";
import { setTimeout } from "node:timers/promises";
import { MessageChannel } from "node:worker_threads";
import { Piscina } from "piscina";
import { afterAll, expect, test } from "vitest";
import { judgeTogether } from "@/lib/data/reading-worker/judge-together";
import { reportReadings } from "@/lib/diagnosis/reading-report";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { summaryOf } from "@/tests/support/log-builder";
import { plainModel } from "@/tests/support/plain-model";
import { type PlainPack, simulatePack } from "@/tests/support/plain-pack";

const threads = new Piscina({
  filename: path.resolve("lib/data/reading-worker/entry.mjs"),
  maxThreads: 1,
  execArgv: [],
  argv: ["0"],
});
afterAll(() => threads.destroy());

const pack: PlainPack = {
  seed: 31,
  model: plainModel,
  intervalS: 10,
  outsideMilliohm: 4,
  resistanceFactor: { 3: 1.8 },
  acts: [
    { act: "rest", hours: 1 },
    { act: "ride", minutes: 90, meanA: 15, peakA: 60 },
    { act: "rest", hours: 5 },
    { act: "charge", currentA: 15, toPercent: 98 },
    { act: "rest", hours: 2 },
  ],
};

/** One probe runs away near the end: the rows before it are surveyed once more. */
function withHeat(log: ReadingLog): ReadingLog {
  const from = log.rows - 300;
  const temperatures = log.temperatures.map((probe, at) =>
    at > 0
      ? probe
      : { ...probe, valuesC: probe.valuesC.map((warm, row) => warm + Math.max(0, Math.min(60, (row - from) / 2))) },
  );
  return { ...log, temperatures };
}

test.each([
  ["with a group of high resistance", (log: ReadingLog) => log, "high-resistance"],
  ["with a sign of danger", withHeat, "acute-event"],
])("two threads judge a log %s to the same report as one, to the last bit", async (_, change, fault) => {
  const log = change(simulatePack(pack));
  const judging = { decoded: { log, summary: summaryOf(log) }, model: plainModel, context: {} };
  const { port1, port2 } = new MessageChannel();
  const started = new SharedArrayBuffer(4);
  const helping = threads.run({ kind: "help", port: port2, started }, { transferList: [port2] });
  while (Atomics.load(new Int32Array(started), 0) === 0) await setTimeout(5);
  // Every two pieces wait for the other thread's answer: this ends only where both have done their halves.
  const together = judgeTogether(judging, port1);
  port1.close();
  await helping;
  const alone = reportReadings(judging.decoded, plainModel);
  expect(alone.diagnosis.findings.map((one) => one.fault).join()).toContain(fault);
  expect(together).toStrictEqual(alone);
});
