import { beforeAll, expect, test } from "vitest";
import { asActor, type Transaction } from "@/lib/data/database";
import { readCaseSign, recordCaseReading } from "@/lib/data/readings/case-readings";
import { keepReadings } from "@/lib/data/readings/readings";
import { readTraceWindow } from "@/lib/data/readings/trace-window";
import { readBenchReturn } from "@/lib/data/returns/bench-returns";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { flagSafety } from "@/lib/data/returns/move-track";
import { readReadingDrawings } from "@/lib/diagnosis/reading-drawings.schema";
import { plainLogCsv, streamOf } from "@/tests/support/plain-log-csv";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
const ROWS = 3000;
let fleet: SmallFleet;
let reference: string;
let before: { readonly wouldChange: readonly string[]; readonly reasons: readonly string[] } | null;

beforeAll(async () => {
  fleet = await createSmallFleet();
  const lines = plainLogCsv({ groups: 16, rows: ROWS }).split("\n");
  // One row of a strong current, deep in the file.
  const spiked = lines.map((line, index) => (index === 2101 ? line.replace(",0.0,", ",-87.5,") : line));
  const chunks = streamOf(spiked.join("\n"));
  const kept = await keepReadings(fleet.sydney, { serial: fleet.soldInSydney, fileName: "log.csv", chunks });
  if (!kept.ok) throw new Error(kept.sentence);
  before = kept.file.suggestion;
  const form = filledForm(fleet.soldInSydney, { readingFileId: kept.file.id, noFileReason: undefined });
  const lodged = await lodgeReturn(fleet.sydney, form, now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  reference = lodged.reference;
});

const whole = { fromRow: 0, toRow: ROWS, groups: [3] };

test("the whole log keeps the one row, and a window around it shows it as a row of its own", async () => {
  const all = await readTraceWindow(fleet.bench, reference, whole);
  const current = all?.series.find(({ key }) => key === "current");
  expect(all).toMatchObject({ fromRow: 0, toRow: ROWS, rowsInLog: ROWS });
  expect(Math.min(...(current?.lowest.map((value) => value ?? 0) ?? []))).toBe(-87.5);
  const near = await readTraceWindow(fleet.bench, reference, { ...whole, fromRow: 2090, toRow: 2120 });
  expect(near).toMatchObject({ rowsPerBucket: 1, fromRow: 2090, toRow: 2120 });
  const rows = near?.series.find(({ key }) => key === "current")?.lowest ?? [];
  expect(rows.filter((value) => value === -87.5)).toHaveLength(1);
  expect(near?.series.filter(({ group }) => group !== null).map(({ group }) => group)).toEqual([3]);
});

test("two people who look closer at once both see it", async () => {
  const both = await Promise.all([1, 2].map(() => readTraceWindow(fleet.bench, reference, whole)));
  expect(both[0]).toEqual(both[1]);
});

test("neither the dealer nor finance looks into the readings, and a reference that is none has none", async () => {
  expect(await readTraceWindow(fleet.sydney, reference, whole)).toBeNull();
  expect(await readTraceWindow(fleet.finance, reference, whole)).toBeNull();
  expect(await readTraceWindow(fleet.bench, "nonsense", whole)).toBeNull();
});

test("the suggestion is made anew with the cover when the return is lodged", async () => {
  expect(before?.wouldChange.join(" ")).not.toContain("who pays");
  const page = await readBenchReturn(fleet.bench, reference);
  expect(page?.cover.outcome).toBe("outside-makers-guarantee");
  const suggestion = page?.readings?.suggestion;
  expect(suggestion?.plainReasons.length).toBeGreaterThan(0);
  expect(suggestion?.wouldChange.length).toBeGreaterThan(0);
  // This file shows nothing, so nothing is promised that the cover could change.
  expect(suggestion?.remedy).toBe("cannot-tell");
  // What a file without findings lacks stays told apart: the same reasons and the same next test as when it was judged.
  expect(suggestion?.reasons).toEqual(before?.reasons);
  expect(suggestion?.reasons.at(-1)).toMatch(/^To be able to tell: /);
  expect(readReadingDrawings(page?.traces)?.drift.outcome).toBe("cannot");
  expect(page?.population).toMatchObject({ outcome: "known" });
});

test("a case reading is the bench's to take, is kept with its reader, and cannot be changed", async () => {
  expect(await recordCaseReading(fleet.sydney, reference, 1.5, now)).toEqual({ ok: false, reason: "not-allowed" });
  expect(await recordCaseReading(fleet.bench, reference, 1.5, now)).toEqual({ ok: true });
  const page = await readBenchReturn(fleet.bench, reference);
  expect(page?.caseReadings).toMatchObject([{ gapMillimetre: 1.5, readByName: fleet.bench.name }]);
  await expect(
    asActor(fleet.bench, (tx) => tx.caseReading.updateMany({ data: { gapMillimetre: 2 } })),
  ).rejects.toThrow();
  expect(await asActor(fleet.sydney, (tx) => tx.caseReading.count())).toBe(0);
});

test("a gap of the case that grew sets the pack apart and isolates it, until a named person has judged the largest reading", async () => {
  const at = (hour: number) => new Date(now.getTime() + hour * 3_600_000);
  const read = (gapMillimetre: number, hour: number) =>
    recordCaseReading(fleet.bench, reference, gapMillimetre, at(hour));
  const page = async () => {
    const found = await readBenchReturn(fleet.bench, reference);
    if (found === null) throw new Error("no page");
    const { suggestion, caseFinding, next } = found;
    return { remedy: suggestion?.remedy, finding: caseFinding?.fault ?? null, ...next.safety };
  };
  expect(await page()).toMatchObject({ remedy: "cannot-tell", finding: null, state: "normal" });
  const grown = { remedy: "isolate", finding: "mechanical-damage", state: "isolate" };
  expect(await read(6, 1)).toEqual({ ok: true });
  const first = await page();
  expect(first).toMatchObject(grown);
  // A straight-edge beside the bulge, and the same bulge read again: neither unsays it, neither is told twice.
  await read(1.3, 2);
  await read(6.2, 3);
  expect(await page()).toEqual(first);
  const way = await asActor(fleet.bench, (tx) => readCaseSignOf(tx, reference));
  expect(way).toMatchObject({ safetyClass: "A1", isJudged: false });
  const lower = { to: "normal", reason: "Bent by its mounting, not swollen.", seenVersion: first.version } as const;
  expect(await flagSafety(fleet.safetyOfficer, reference, lower, at(4))).toMatchObject({ ok: true });
  expect(await page()).toMatchObject({ remedy: "cannot-tell", finding: null, state: "normal" });
  expect(await asActor(fleet.bench, (tx) => readCaseSignOf(tx, reference))).toMatchObject({ isJudged: true });
  // Read again as it was judged it calls nobody; grown on it does.
  await read(6.1, 5);
  expect(await page()).toMatchObject({ remedy: "cannot-tell", finding: null, state: "normal" });
  expect(await asActor(fleet.bench, (tx) => readCaseSignOf(tx, reference))).toMatchObject({ isJudged: true });
  await read(6.8, 6);
  expect(await page()).toMatchObject(grown);
});

async function readCaseSignOf(tx: Transaction, typed: string) {
  const { id } = await tx.return.findUniqueOrThrow({ where: { reference: typed }, select: { id: true } });
  return readCaseSign(tx, id);
}
