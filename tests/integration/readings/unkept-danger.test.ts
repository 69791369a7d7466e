import { beforeAll, expect, test } from "vitest";
import { asSystem } from "@/lib/data/database";
import { listHeld } from "@/lib/data/readings/held-upload";
import { type KeptReadings, keepReadings, letHeldGo, readReceived } from "@/lib/data/readings/readings";
import { groupSerial, type Serial } from "@/lib/packs/serial";
import { plainLogCsv, streamOf } from "@/tests/support/plain-log-csv";
import { createSmallFleet, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

/** A log whose probe climbs far above what any cell bears (diagnostics.md 2, F16: heat that goes on by itself). */
function hotLog(options: Parameters<typeof plainLogCsv>[0]): string {
  const [top = "", ...lines] = plainLogCsv({ rows: 300, ...options })
    .trimEnd()
    .split("\n");
  const hot = lines.map((line, row) => line.replace(/,21\.0$/, `,${Math.min(140, 21 + row).toFixed(1)}`));
  return `${[top, ...hot].join("\n")}\n`;
}

/** Its cells state no unit: that must be asked. */
const hotAndUnsure = (rows: number) => hotLog({ groups: 16, rows }).replaceAll(" Voltage / V,", ",");

function upload(serial: Serial, text: string): Promise<KeptReadings> {
  return keepReadings(fleet.berlin, { serial, fileName: "log.csv", chunks: streamOf(text) });
}

/** What the house knows of a pack: its flag, its incidents, and how many notices of danger there are in all. */
function known(serial: Serial) {
  return asSystem(async (tx) => {
    const { id: packId } = await tx.pack.findUniqueOrThrow({ where: { serial }, select: { id: true } });
    const steps = await tx.trackMove.findMany({ where: { track: { packId, track: "safety" } }, select: { to: true } });
    const incidents = await tx.incident.findMany({ where: { packId }, select: { entries: { select: { id: true } } } });
    return { flags: steps.map(({ to }) => to), incidents: incidents.map(({ entries }) => entries.length) };
  });
}

const notices = () => asSystem((tx) => tx.notice.count({ where: { kind: "danger-raised" } }));
const quiet = { flags: [], incidents: [] };

function questionsOf(answer: KeptReadings) {
  if (answer.ok || !("ask" in answer)) throw new Error("nothing was asked");
  return answer.ask;
}

test("a danger is told while the columns of its file are still asked about, once, and outlives the file that is not wanted", async () => {
  const serial = fleet.soldInBerlin;
  expect(await known(serial)).toEqual(quiet);
  const before = await notices();
  const { danger, heldId, columns } = questionsOf(await upload(serial, hotAndUnsure(300)));
  expect(danger).toMatch(/^The readings hold a dangerous event\. Keep everybody away/);
  const told = await known(serial);
  expect(told).toMatchObject({ flags: ["isolate"], incidents: [expect.any(Number)] });
  expect(await notices()).toBeGreaterThan(before);

  const answers = { mapping: Object.fromEntries(columns.map(({ key, proposal }) => [key, proposal])), timeZone: null };
  const kept = await readReceived(fleet.berlin, heldId, {}, { answers });
  expect(kept).toMatchObject({ ok: true, file: { suggestion: { remedy: "isolate" } } });
  expect(await known(serial)).toEqual(told);
  expect(await listHeld()).toEqual([]);

  const other = fleet.others[0] ?? fleet.unsold;
  const left = questionsOf(await upload(other, hotAndUnsure(301).replace("Cell 01", "Zelle 01")));
  await letHeldGo(fleet.berlin, left.heldId);
  expect(await known(other)).toMatchObject({ flags: ["isolate"], incidents: [expect.any(Number)] });
  expect(await listHeld()).toEqual([{ id: left.heldId, serial: other }]);
});

test("a quiet file whose columns are asked about tells nothing", async () => {
  const serial = fleet.others[1] ?? fleet.unsold;
  const text = plainLogCsv({ groups: 16, rows: 150 }).replaceAll(" Voltage / V,", ",").replace("Cell 01", "Grupo 01");
  expect(questionsOf(await upload(serial, text)).danger).toBeNull();
  expect(await known(serial)).toEqual(quiet);
});

test("a refusal as another model's file says the danger first, and the pack it was sent for is flagged", async () => {
  const serial = fleet.others[2] ?? fleet.unsold;
  const answer = await upload(serial, hotLog({ groups: 15 }));
  expect(answer).toMatchObject({ ok: false, sentence: expect.stringMatching(/^The readings hold a dangerous event/) });
  expect(answer).toMatchObject({ sentence: expect.stringContaining("15 cell groups, this pack has 16") });
  expect(await known(serial)).toMatchObject({ flags: ["isolate"], incidents: [expect.any(Number)] });
});

test("a refusal as another pack's file says the danger first, and the pack the file names is flagged", async () => {
  const [asked, named] = [fleet.others[3] ?? fleet.unsold, fleet.others[4] ?? fleet.unsold];
  const answer = await upload(asked, hotLog({ groups: 16, serial: groupSerial(named) }));
  expect(answer).toMatchObject({ ok: false, sentence: expect.stringMatching(/^The readings hold a dangerous event/) });
  expect(answer).toMatchObject({ sentence: expect.stringContaining(groupSerial(named)) });
  expect(await known(named)).toMatchObject({ flags: ["isolate"], incidents: [expect.any(Number)] });
  expect(await known(asked)).toEqual(quiet);
});
