import { createHash } from "node:crypto";
import { readdir, utimes } from "node:fs/promises";
import path from "node:path";
import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem } from "@/lib/data/database";
import { readKeptFile } from "@/lib/data/readings/file-store";
import { keepReadings } from "@/lib/data/readings/readings";
import { takeReadingsOut, wasTakenOut } from "@/lib/data/readings/take-readings-out";
import { groupSerial } from "@/lib/packs/serial";
import { plainLogCsv, streamOf } from "@/tests/support/plain-log-csv";
import { createSmallFleet, type SmallFleet } from "@/tests/support/small-fleet";
import { countRows, withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

const upload = (parts: (string | Uint8Array)[], serial: string = fleet.soldInBerlin) =>
  keepReadings(fleet.berlin, { serial, fileName: "log.csv", chunks: streamOf(...parts) });

/** Everything in the file store, kept or on its way in. */
async function filesInStore(): Promise<string[]> {
  const folder = path.join(process.env.DATA_DIR ?? "", "files");
  const names = await readdir(folder, { recursive: true, withFileTypes: true }).catch(() => []);
  return names.filter((entry) => entry.isFile()).map(({ name }) => name);
}

/** Makes kept bytes look as if they had been sent so long ago. */
async function ageBytes(sha256: string, hours: number): Promise<void> {
  const then = new Date(Date.now() - hours * 3_600_000);
  await utimes(path.join(process.env.DATA_DIR ?? "", "files", sha256.slice(0, 2), sha256), then, then);
}

test("a good file is kept byte for byte under its SHA-256, with what was found in it", async () => {
  const text = plainLogCsv({ groups: 16, serial: groupSerial(fleet.soldInBerlin) });
  const answer = await upload([text.slice(0, 100), text.slice(100)]);
  if (!answer.ok) throw new Error(answer.sentence);
  const sha256 = createHash("sha256").update(text).digest("hex");
  expect(answer.file).toMatchObject({ groups: 16, rows: 120, rejectedRows: 0, sha256 });
  expect(answer.file.suggestion?.ruleVersion).toMatch(/^\d{4}-\d{2}/);
  const chunks: Buffer[] = [];
  for await (const chunk of readKeptFile(sha256)) chunks.push(Buffer.from(chunk));
  expect(Buffer.concat(chunks).toString("utf8")).toBe(text);
});

const pdf = "%PDF-1.7\n%âãÏÓ\n1 0 obj\n<< /Type /Catalog >>\nendobj\n";

test.each<[string, () => (string | Uint8Array)[], RegExp]>([
  ["an empty file", () => [], /empty/i],
  ["a PDF renamed .csv", () => [pdf], /PDF/],
  ["bytes that are no text", () => [new Uint8Array(2000)], /not a table of readings|text/i],
  [
    "a header without rows",
    () => ["Test Time / s,Voltage / V,Current / A,Cell 01 Voltage / V\n"],
    /no readings below/i,
  ],
  ["no cells", () => ["Test Time / s,Voltage / V,Current / A\n0,60,0\n1,60,0\n2,60,0\n"], /cell/i],
  ["the log of another model", () => [plainLogCsv({ groups: 13 })], /13 cell groups, this pack has 16/],
])("%s gets one sentence, and nothing stays behind", async (_, parts, sentence) => {
  const before = { files: await filesInStore(), rows: await countRows("readingFile") };
  const answer = await upload(parts());
  expect(answer.ok).toBe(false);
  if (!answer.ok) expect(answer.sentence).toMatch(sentence);
  expect({ files: await filesInStore(), rows: await countRows("readingFile") }).toEqual(before);
});

test("the file of another pack is named as such", async () => {
  const other = fleet.others[0] ?? fleet.unsold;
  const answer = await upload([plainLogCsv({ groups: 16, serial: groupSerial(other) })]);
  expect(answer).toMatchObject({ ok: false });
  if (!answer.ok) expect(answer.sentence).toContain(groupSerial(other));
});

test("a file over the limit is refused while it arrives, and nothing of it stays", async () => {
  const before = await filesInStore();
  const megabyte = new TextEncoder().encode("x,".repeat(512 * 1024));
  let sent = 0;
  async function* endless() {
    for (; sent < 400; sent += 1) yield megabyte;
  }
  const answer = await keepReadings(fleet.berlin, {
    serial: fleet.soldInBerlin,
    fileName: "big.csv",
    chunks: endless(),
  });
  expect(answer).toMatchObject({ ok: false, sentence: expect.stringContaining("256 MB") });
  expect(sent).toBeLessThan(400);
  expect(await filesInStore()).toEqual(before);
}, 120_000);

test("an upload that breaks off leaves nothing", async () => {
  const before = await filesInStore();
  async function* broken() {
    yield new TextEncoder().encode("Test Time / s,Voltage / V\n0,");
    throw new Error("the line dropped");
  }
  const chunks = broken();
  await expect(keepReadings(fleet.berlin, { serial: fleet.soldInBerlin, fileName: "x.csv", chunks })).rejects.toThrow(
    "the line dropped",
  );
  expect(await filesInStore()).toEqual(before);
});

test("a mistyped or unknown serial is answered before the file is read", async () => {
  expect(await upload(["x"], "QP-2402-0001-")).toMatchObject({ ok: false });
});

test("an upload whose form was never sent is swept away after a day with its bytes", async () => {
  const text = plainLogCsv({ groups: 16, rows: 77 });
  const first = await upload([text]);
  if (!first.ok) throw new Error(first.sentence);
  await asSystem((tx) =>
    tx.readingFile.update({
      where: { id: first.file.id },
      data: { uploadedAt: new Date(Date.now() - 25 * 3_600_000) },
    }),
  );
  await ageBytes(first.file.sha256, 25);
  await upload([plainLogCsv({ groups: 16, rows: 78 })]);
  expect(await asActor(fleet.berlin, (tx) => tx.readingFile.findUnique({ where: { id: first.file.id } }))).toBeNull();
  expect(await filesInStore()).not.toContain(first.file.sha256);
});

test("a file that was taken out goes with no form, is swept away at once, and stays on record", async () => {
  const text = plainLogCsv({ groups: 16, rows: 81 });
  const taken = await upload([text]);
  if (!taken.ok) throw new Error(taken.sentence);
  const { id, sha256 } = taken.file;
  const row = () => asSystem((tx) => tx.readingFile.findUnique({ where: { id }, select: { returnId: true } }));
  await takeReadingsOut(fleet.sydney, id);
  expect(await asSystem((tx) => wasTakenOut(tx, id))).toBe(false);
  await takeReadingsOut(fleet.berlin, id);
  await takeReadingsOut(fleet.berlin, id);
  expect(await row()).not.toBeNull();
  expect(await asActor(fleet.berlin, (tx) => wasTakenOut(tx, id))).toBe(true);
  await upload([plainLogCsv({ groups: 16, rows: 82 })]);
  expect(await row()).toBeNull();
  const record = await asSystem((tx) => tx.readingTakenOut.findMany({ select: { sha256: true, byUserId: true } }));
  expect(record).toEqual([{ sha256, byUserId: fleet.berlin.userId }]);
});

test("another dealer sees neither the file nor its findings", async () => {
  const seen = await asActor(fleet.sydney, async (tx) => [
    await tx.readingFile.count(),
    await tx.measurement.count(),
    await tx.finding.count(),
    await tx.suggestion.count(),
  ]);
  expect(seen).toEqual([0, 0, 0, 0]);
});
