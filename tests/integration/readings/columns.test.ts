import { createHash, randomUUID } from "node:crypto";
import { readdir } from "node:fs/promises";
import path from "node:path";
import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem } from "@/lib/data/database";
import { listRememberedColumns, withdrawColumns } from "@/lib/data/readings/column-mappings";
import { askAgain, type KeptReadings, keepReadings, letHeldGo, readReceived } from "@/lib/data/readings/readings";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { columnMappingSchema } from "@/lib/readings/column-mapping";
import { packHeaders, packRows, tableText } from "@/tests/support/pack-file";
import { plainLogCsv, streamOf } from "@/tests/support/plain-log-csv";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

/** A log whose cells state no unit: the decoder must ask. */
const unsure = (rows: number) => plainLogCsv({ groups: 16, rows }).replaceAll(" Voltage / V,", ",");

function upload(text: string): Promise<KeptReadings> {
  return keepReadings(fleet.berlin, { serial: fleet.soldInBerlin, fileName: "log.csv", chunks: streamOf(text) });
}

async function waiting(): Promise<number> {
  return (await readdir(path.join(process.env.DATA_DIR ?? "", "files", "incoming"))).length;
}

function questionsOf(answer: KeptReadings) {
  if (answer.ok || !("ask" in answer)) throw new Error("nothing was asked");
  const { columns, heldId, timeZone } = answer.ask;
  return {
    columns,
    heldId,
    timeZone,
    proposed: Object.fromEntries(columns.map(({ key, proposal }) => [key, proposal])),
  };
}

test("an unsure file is held and asked about; once answered, it and its likes are read without asking", async () => {
  const { heldId, columns, timeZone, proposed } = questionsOf(await upload(unsure(121)));
  expect(columns.find(({ key }) => key === "Cell 01")?.proposal).toEqual({
    quantity: "cell-voltage",
    number: 1,
    unit: "V",
    sign: null,
  });
  expect(timeZone).toBe("Europe/Berlin");
  expect(await readReceived(fleet.sydney, heldId)).toMatchObject({
    ok: false,
    sentence: expect.stringContaining("no longer held"),
  });
  const answers = { mapping: proposed, timeZone: null };
  const kept = await readReceived(fleet.berlin, heldId, {}, { answers });
  if (!kept.ok) throw new Error(kept.sentence);
  expect(kept.file).toMatchObject({ rows: 121, groups: 16 });
  expect(kept.file.remarks[0]).toContain("as you confirmed");
  expect(await waiting()).toBe(0);
  const next = await upload(unsure(122));
  if (!next.ok) throw new Error(next.sentence);
  expect(next.file.remarks[0]).toContain("as confirmed for an earlier file");

  const reopened = questionsOf(await askAgain(fleet.berlin, next.file.id));
  const changed = {
    ...proposed,
    "Temperature T1 / degC": { quantity: "ignore", number: null, unit: null, sign: null } as const,
  };
  const reread = await readReceived(
    fleet.berlin,
    reopened.heldId,
    {},
    { answers: { mapping: changed, timeZone: null } },
  );
  expect(reread).toMatchObject({ ok: true });
  expect(await waiting()).toBe(0);
});

test("however many kinds of file a dealer has confirmed since, the answers for the first one still count", async () => {
  // A header that says what its columns are: were the answer lost, it would be read by its headings, and nobody asked.
  const sure = (rows: number) => plainLogCsv({ groups: 16, rows }).replace("Temperature T1", "Temperature T2");
  const first = await upload(sure(131));
  if (!first.ok) throw new Error(first.sentence);
  const { heldId, proposed } = questionsOf(await askAgain(fleet.berlin, first.file.id));
  const leftOut = { quantity: "ignore", number: null, unit: null, sign: null } as const;
  const mapping = { ...proposed, "Current / A": leftOut };
  expect(await readReceived(fleet.berlin, heldId, {}, { answers: { mapping, timeZone: null } })).toMatchObject({
    ok: true,
  });
  const others = Array.from({ length: 250 }, (_, at) => ({
    dealerId: fleet.berlin.dealerId ?? "",
    shapeHash: createHash("sha256").update(`another kind ${at}`).digest("hex"),
    mapping: proposed,
    confirmedByUserId: fleet.berlin.userId,
    confirmedAt: new Date(Date.now() + 1000 + at),
  }));
  await asSystem((tx) => tx.columnMapping.createMany({ data: others }));
  const next = await upload(sure(132));
  if (!next.ok) throw new Error(JSON.stringify(next));
  expect(next.file.remarks[0]).toContain("as confirmed for an earlier file");
  expect(next.file.remarks).toContainEqual(expect.stringContaining("no current column"));
  await asSystem((tx) =>
    tx.columnMapping.deleteMany({ where: { shapeHash: { in: others.map(({ shapeHash }) => shapeHash) } } }),
  );
});

test("what one dealer confirmed is unknown to another", async () => {
  expect(await asActor(fleet.berlin, (tx) => tx.columnMapping.count())).toBe(2);
  expect(await asActor(fleet.sydney, (tx) => tx.columnMapping.count())).toBe(0);
});

test("a reading that is called off leaves neither a row nor bytes", async () => {
  const before = await asActor(fleet.berlin, (tx) => tx.readingFile.count());
  const calling = new AbortController();
  const text = plainLogCsv({ groups: 16, rows: 40_000 });
  const chunks = streamOf(text);
  setTimeout(() => calling.abort(new Error("went away")), 400);
  await expect(
    keepReadings(fleet.berlin, { serial: fleet.soldInBerlin, fileName: "x.csv", chunks }, { signal: calling.signal }),
  ).rejects.toThrow("went away");
  expect(await asActor(fleet.berlin, (tx) => tx.readingFile.count())).toBe(before);
  expect(await waiting()).toBe(0);
});

// The second header differs, so that what was confirmed above does not answer for it.
test("a file that is asked about goes when its sender chooses another, and not when somebody else says so", async () => {
  const { heldId } = questionsOf(await upload(unsure(123).replace("Cell 01", "Zelle 01")));
  await letHeldGo(fleet.sydney, heldId);
  expect(await waiting()).toBe(2);
  await letHeldGo(fleet.berlin, heldId);
  expect(await waiting()).toBe(0);
  expect(await readReceived(fleet.berlin, heldId)).toMatchObject({
    ok: false,
    sentence: expect.stringContaining("no longer held"),
  });
  await letHeldGo(fleet.berlin, heldId);
});

test("a file whose only unknown heading stands over its dates is asked about, not refused, and is read once confirmed", async () => {
  const [heading = "", ...rows] = plainLogCsv({ groups: 16, rows: 124 }).trimEnd().split("\n");
  const dated = rows.map((row, at) => row.replace(/^[^,]*/, new Date(1_795_000_000_000 + at * 10_000).toISOString()));
  const text = [heading.replace(/^[^,]*/, "Zeitpunkt"), ...dated].join("\n");
  const { heldId, proposed } = questionsOf(await upload(text));
  expect(proposed.Zeitpunkt).toMatchObject({ quantity: "time-of-some-kind" });
  const kept = await readReceived(fleet.berlin, heldId, {}, { answers: { mapping: proposed, timeZone: null } });
  expect(kept).toMatchObject({ ok: true, file: { rows: 124 } });
});

test("dates that do not tell day and month apart are asked about, and the order once said counts for the next file", async () => {
  const textOf = (count: number) => {
    const [heading = "", ...rows] = plainLogCsv({ groups: 16, rows: count }).trimEnd().split("\n");
    const clock = (at: number) => new Date(at * 10_000).toISOString().slice(11, 19);
    const dated = rows.map((row, at) => row.replace(/^[^,]*/, `05/11/2026 ${clock(at)}Z`));
    return [heading.replace(/^[^,]*/, "Date Time"), ...dated].join("\n");
  };
  const { heldId, proposed } = questionsOf(await upload(textOf(129)));
  expect(proposed["Date Time"]).toMatchObject({ quantity: "time-of-some-kind", dayOrder: null });
  const said = { ...proposed, "Date Time": { ...proposed["Date Time"], dayOrder: "day-first" } };
  const answers = { mapping: columnMappingSchema.parse(said), timeZone: null };
  const kept = await readReceived(fleet.berlin, heldId, {}, { answers });
  if (!kept.ok) throw new Error(kept.sentence);
  expect(kept.file.rows).toBe(129);
  const next = await upload(textOf(130));
  if (!next.ok) throw new Error(next.sentence);
  expect(next.file.remarks.join(" ")).not.toContain("Day and month");
});

test("a direction confirmed for one file is asked about anew where the next file of its header shows the opposite", async () => {
  const headers = packHeaders(16).map((header) => (header === "Current / A" ? "Strom" : header));
  const rows = packRows(16, 125);
  const turned = rows.map((row) => row.map((value, at) => (at === 2 ? -value : value)));
  const first = questionsOf(await upload(tableText(headers, rows)));
  expect(first.proposed.Strom).toMatchObject({ sign: "charge-positive" });
  const answers = { mapping: first.proposed, timeZone: null };
  expect(await readReceived(fleet.berlin, first.heldId, {}, { answers })).toMatchObject({ ok: true });
  expect(await upload(tableText(headers, rows.slice(1)))).toMatchObject({ ok: true });

  const anew = questionsOf(await upload(tableText(headers, turned)));
  expect(anew.proposed.Strom).toMatchObject({ sign: "discharge-positive" });
  expect(anew.columns.filter(({ why }) => why !== null).map(({ key }) => key)).toEqual(["Strom"]);
  await letHeldGo(fleet.berlin, anew.heldId);
});

test("what the bench confirms when it reads a pack out is its dealer's, and what that dealer confirmed counts for the bench", async () => {
  const form = filledForm(fleet.soldInBerlin, { clientKey: randomUUID() });
  const lodged = await lodgeReturn(fleet.berlin, form, new Date());
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const { reference } = lodged;
  const bench = (text: string) =>
    keepReadings(fleet.bench, { serial: fleet.soldInBerlin, reference, fileName: "log.csv", chunks: streamOf(text) });
  expect(await bench(unsure(126))).toMatchObject({ ok: true });

  const own = unsure(127).replace("Cell 01", "Zelle 1");
  const { heldId, proposed } = questionsOf(await bench(own));
  const answers = { mapping: proposed, timeZone: null };
  expect(await readReceived(fleet.bench, heldId, {}, { answers })).toMatchObject({ ok: true });
  const kinds = (await listRememberedColumns(fleet.bench)) ?? [];
  expect(new Set(kinds.map(({ dealerName }) => dealerName)).size).toBe(1);
  expect(kinds[0]?.columns.map(({ heading }) => heading)).toContain("Zelle 1");
  expect(await upload(unsure(128).replace("Cell 01", "Zelle 1"))).toMatchObject({ ok: true });
});

test("what is remembered is seen and withdrawn by its dealer and the bench alone, and is asked about again then", async () => {
  const kinds = (await listRememberedColumns(fleet.berlin)) ?? [];
  const [newest] = kinds;
  if (newest === undefined) throw new Error("nothing is remembered");
  for (const stranger of [fleet.manager, fleet.finance, fleet.administrator]) {
    expect(await listRememberedColumns(stranger)).toBeNull();
    expect(await withdrawColumns(stranger, newest.id)).toMatchObject({ ok: false });
  }
  expect(await listRememberedColumns(fleet.sydney)).toEqual([]);
  expect(await withdrawColumns(fleet.sydney, newest.id)).toMatchObject({ ok: false });
  expect(await withdrawColumns(fleet.berlin, newest.id)).toEqual({ ok: true });
  expect(await withdrawColumns(fleet.berlin, newest.id)).toMatchObject({ ok: false });
  const asked = questionsOf(await upload(unsure(129).replace("Cell 01", "Zelle 1")));
  await letHeldGo(fleet.berlin, asked.heldId);
  const [last] = (await listRememberedColumns(fleet.bench)) ?? [];
  expect(await withdrawColumns(fleet.bench, last?.id ?? "")).toEqual({ ok: true });
  expect(await listRememberedColumns(fleet.berlin)).toHaveLength(kinds.length - 2);
});
