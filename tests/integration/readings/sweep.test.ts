import { createHash, randomUUID } from "node:crypto";
import { existsSync } from "node:fs";
import { mkdir, utimes, writeFile } from "node:fs/promises";
import path from "node:path";
import { beforeAll, expect, test } from "vitest";
import { mintActor } from "@/lib/access/actor";
import { asSystem } from "@/lib/data/database";
import { keepFile, receiveFile } from "@/lib/data/readings/file-store";
import { keepReadings } from "@/lib/data/readings/readings";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { plainLogCsv, streamOf } from "@/tests/support/plain-log-csv";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

const store = (...parts: string[]) => path.join(process.env.DATA_DIR ?? "", "files", ...parts);
const kept = (sha256: string) => store(sha256.slice(0, 2), sha256);
const logOf = (rows: number) => plainLogCsv({ groups: 16, rows });
const sha256Of = (text: string) => createHash("sha256").update(text).digest("hex");

function upload(text: string, actor = fleet.berlin) {
  return keepReadings(actor, { serial: fleet.soldInBerlin, fileName: "log.csv", chunks: streamOf(text) });
}

async function age(file: string, hours: number): Promise<void> {
  const then = new Date(Date.now() - hours * 3_600_000);
  await utimes(file, then, then);
}

/** Bytes in the folder into which the given text will be kept, which no row names. */
async function plantUnnamedBeside(text: string, hours: number): Promise<string> {
  const name = `${sha256Of(text).slice(0, 2)}${createHash("sha256").update(randomUUID()).digest("hex").slice(2)}`;
  await mkdir(path.dirname(kept(name)), { recursive: true });
  await writeFile(kept(name), "left behind");
  await age(kept(name), hours);
  return kept(name);
}

test("unnamed bytes older than an hour go with the next upload beside them, younger ones stay", async () => {
  const text = logOf(70);
  const old = await plantUnnamedBeside(text, 1.1);
  const young = await plantUnnamedBeside(text, 0.9);
  expect(await upload(text)).toMatchObject({ ok: true });
  expect([existsSync(old), existsSync(young), existsSync(kept(sha256Of(text)))]).toEqual([false, true, true]);
});

test("bytes that a row names stay, however old", async () => {
  const named = await upload(logOf(71));
  if (!named.ok) throw new Error(named.sentence);
  await age(kept(named.file.sha256), 1000);
  // Any other log whose bytes come into the same folder: one of 256, so some number of rows will do.
  const rows = Array.from({ length: 5000 }, (_, index) => index + 80).find((count) =>
    sha256Of(logOf(count)).startsWith(named.file.sha256.slice(0, 2)),
  );
  if (rows === undefined) throw new Error("no neighbour found");
  expect(await upload(logOf(rows))).toMatchObject({ ok: true });
  expect(existsSync(kept(named.file.sha256))).toBe(true);
});

test("the bytes of an abandoned upload stay where the same bytes were sent again a moment ago", async () => {
  const text = logOf(72);
  const first = await upload(text);
  if (!first.ok) throw new Error(first.sentence);
  await asSystem((tx) =>
    tx.readingFile.update({
      where: { id: first.file.id },
      data: { uploadedAt: new Date(Date.now() - 25 * 3_600_000) },
    }),
  );
  await age(kept(first.file.sha256), 25);
  // Another upload of the same bytes has put them in place and has not named them yet.
  const received = await receiveFile(streamOf(text));
  if (received.kind !== "received") throw new Error(received.kind);
  await keepFile(received.temporaryPath, received.sha256);
  expect(await upload(logOf(73))).toMatchObject({ ok: true });
  expect(await asSystem((tx) => tx.readingFile.count({ where: { id: first.file.id } }))).toBe(0);
  expect(existsSync(kept(first.file.sha256))).toBe(true);
});

test("an upload that fails after its bytes are kept leaves them, and trying again names them", async () => {
  const text = logOf(74);
  // PostgreSQL stores no NUL character, so the row fails after the bytes were kept.
  const unwritable = mintActor({ userId: "nul\0", name: "Berta", role: "dealer", dealerId: fleet.berlin.dealerId });
  await expect(upload(text, unwritable)).rejects.toThrow();
  expect(existsSync(kept(sha256Of(text)))).toBe(true);
  expect(await upload(text)).toMatchObject({ ok: true });
});

test("a file that broke off on its way in more than a day ago is removed, one of today is not", async () => {
  const [old, young] = [store("incoming", randomUUID()), store("incoming", randomUUID())];
  for (const [file, hours] of [
    [old, 25],
    [young, 23],
  ] as const) {
    await writeFile(file, "half of a f");
    await age(file, hours);
  }
  expect(await upload(logOf(75))).toMatchObject({ ok: true });
  expect([existsSync(old), existsSync(young)]).toEqual([false, true]);
});

// Evidence is never erased while a record of an incident exists, open or closed (lib/safety/freeze-facts.ts).
test("an upload that was never sent stays where its pack stands in the record of an incident", async () => {
  const first = await upload(logOf(75));
  if (!first.ok) throw new Error(first.sentence);
  const longAgo = { uploadedAt: new Date(Date.now() - 100 * 3_600_000) };
  await asSystem((tx) => tx.readingFile.updateMany({ where: { returnId: null }, data: longAgo }));
  const lodged = await lodgeReturn(
    fleet.berlin,
    filledForm(fleet.soldInBerlin, { dangerSigns: ["fire-or-damage-nearby"] }),
    new Date("2026-10-05T09:00:00Z"),
  );
  expect(lodged).toMatchObject({ ok: true });
  const other = { serial: fleet.unsold, fileName: "other.csv", chunks: streamOf(logOf(76)) };
  expect(await keepReadings(fleet.berlin, other)).toMatchObject({ ok: true });
  expect(await asSystem((tx) => tx.readingFile.count({ where: { id: first.file.id } }))).toBe(1);
  expect(existsSync(kept(first.file.sha256))).toBe(true);
});
