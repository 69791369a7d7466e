import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, expect, test } from "vitest";
import { createReadingPool, defaultReadingLimits } from "@/lib/data/reading-worker/reading-pool";
import type { ReadingProgress } from "@/lib/data/reading-worker/reading-task";
import { plainLogCsv } from "@/tests/support/plain-log-csv";
import { plainModel } from "@/tests/support/plain-model";

const folder = await mkdtemp(path.join(tmpdir(), "bench-pool-"));
const pools: { close: () => Promise<void> }[] = [];
afterAll(async () => {
  for (const pool of pools) await pool.close();
  await rm(folder, { recursive: true });
});

function pool(limits: Partial<typeof defaultReadingLimits> = {}) {
  const made = createReadingPool({ ...defaultReadingLimits, threads: 1, ...limits });
  pools.push(made);
  return made;
}

async function logFile(rows: number) {
  const text = plainLogCsv({ groups: 16, rows });
  const file = path.join(folder, `${rows}.csv`);
  await writeFile(file, text);
  return { path: file, sizeBytes: Buffer.byteLength(text), model: plainModel, context: {} };
}

test("a file is read in a thread while this one stays free, and it is told how far it is", async () => {
  const file = await logFile(60_000);
  const stages: ReadingProgress[] = [];
  let ticks = 0;
  const clock = setInterval(() => {
    ticks += 1;
  }, 20);
  const answer = await pool({ threads: 2 }).readFile({ ...file, onProgress: (progress) => stages.push(progress) });
  clearInterval(clock);
  expect(answer).toMatchObject({ kind: "report", summary: { rows: 60_000, groups: 16 } });
  expect(ticks).toBeGreaterThan(3);
  expect(stages.at(-1)).toMatchObject({ rows: 60_000, share: expect.closeTo(1, 2) });
});

test("a reading that is called off ends at once, and the next file is read", async () => {
  const threads = pool();
  const calling = new AbortController();
  const long = threads.readFile({ ...(await logFile(60_000)), signal: calling.signal });
  setTimeout(() => calling.abort(new Error("changed my mind")), 300);
  await expect(long).rejects.toThrow("changed my mind");
  expect(await threads.readFile(await logFile(200))).toMatchObject({ kind: "report", summary: { rows: 200 } });
});

test("when as many files wait as may, the next is turned away at once", async () => {
  const threads = pool({ waiting: 1 });
  const file = await logFile(500);
  const taken = [threads.readFile(file), threads.readFile(file)];
  expect(threads.isFull()).toBe(true);
  expect(await threads.readFile(file)).toEqual({ kind: "busy" });
  expect((await Promise.all(taken)).map(({ kind }) => kind)).toEqual(["report", "report"]);
  expect(threads.isFull()).toBe(false);
});

test("a thread that runs out of memory or time says so, and the process lives on", async () => {
  const file = await logFile(500);
  expect(await pool({ heapMb: 4 }).readFile(file)).toEqual({ kind: "gave-up", why: "memory" });
  expect(await pool({ seconds: 0.05 }).readFile(await logFile(60_000))).toEqual({ kind: "gave-up", why: "time" });
});
