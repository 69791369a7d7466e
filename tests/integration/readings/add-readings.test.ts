import { randomUUID } from "node:crypto";
import { beforeAll, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { verifyEveryChain } from "@/lib/data/chains/verify-chains";
import { asSystem } from "@/lib/data/database";
import { addReadings } from "@/lib/data/readings/add-readings";
import { askAgain, type KeptReadings, keepReadings, readReceived } from "@/lib/data/readings/readings";
import { openReturnFile } from "@/lib/data/readings/readings-download";
import { readBenchReturn } from "@/lib/data/returns/bench-returns";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { listReturnQueue } from "@/lib/data/returns/return-queue";
import { readDealerReturn } from "@/lib/data/returns/returns";
import { readTransport } from "@/lib/data/transport/transport";
import type { Serial } from "@/lib/packs/serial";
import { riskRank, riskRankUnderFlag } from "@/lib/returns/risk-rank";
import { plainLogCsv, streamOf } from "@/tests/support/plain-log-csv";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

async function lodge(serial: Serial, readingFileId?: string): Promise<string> {
  const over = {
    clientKey: randomUUID(),
    ...(readingFileId === undefined ? {} : { readingFileId, noFileReason: "" as const }),
  };
  const answer = await lodgeReturn(fleet.berlin, filledForm(serial, over), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  return answer.reference;
}

function upload(actor: Actor, serial: Serial, reference: string | undefined, text: string): Promise<KeptReadings> {
  return keepReadings(actor, { serial, reference, fileName: "log.csv", chunks: streamOf(text) });
}

async function uploaded(...given: Parameters<typeof upload>): Promise<string> {
  const kept = await upload(...given);
  if (!kept.ok) throw new Error(kept.sentence);
  return kept.file.id;
}

const log = (rows: number) => plainLogCsv({ groups: 16, rows });

/** A log whose probe climbs far above what any cell bears (diagnostics.md 2, F16: heat that goes on by itself). */
function hotLog(): string {
  const [header = "", ...lines] = log(300).trimEnd().split("\n");
  const hot = lines.map((line, row) => line.replace(/,21\.0$/, `,${Math.min(140, 21 + row).toFixed(1)}`));
  return `${[header, ...hot].join("\n")}\n`;
}

const added = (fileId: string, seenVersion: number) => ({ fileId, seenVersion, why: "Asked for by the desk." });
const act = (name: "take" | "help" | "ask", seenVersion: number, stated = {}) =>
  ({ name, reason: "Please send the log.", seenVersion, stated }) as const;

test("a dealer brings the readings that were asked for; the newest count and the older ones stay", async () => {
  const [serial] = fleet.others;
  if (serial === undefined) throw new Error("no pack");
  const reference = await lodge(serial);
  const gaps = async () => (await readTransport(fleet.bench, reference))?.proposal.notDiagnosed.join(" ");
  expect(await gaps()).toMatch(/no readings/i);
  await makeMove(fleet.bench, reference, act("take", 1), now);
  await makeMove(fleet.bench, reference, act("help", 2, { logWasAskedFor: true }), now);

  const first = await uploaded(fleet.berlin, serial, reference, log(120));
  expect(await addReadings(fleet.berlin, reference, added(first, 3), now)).toEqual({ ok: true, version: 4 });
  const page = await readDealerReturn(fleet.berlin, reference);
  expect(page?.readings).toMatchObject({ id: first, rows: 120, suggestion: { remedy: "cannot-tell" } });
  expect(page).toMatchObject({ status: "remote-help", steps: { turn: "maker" } });

  const second = await uploaded(fleet.berlin, serial, reference, log(240));
  expect(await addReadings(fleet.berlin, reference, added(second, 4), now)).toEqual({ ok: true, version: 5 });
  const bench = await readBenchReturn(fleet.bench, reference);
  expect(bench?.readings).toMatchObject({ id: second, rows: 240 });
  expect(bench?.earlierReadings.map(({ id }) => id)).toEqual([first]);
  const queue = await listReturnQueue(fleet.bench, "open", 1);
  expect(queue?.rows.map((row) => row.reference)).toEqual([reference]);
  expect(bench?.next.history).toMatchObject({ kind: "sound" });
  expect(await openReturnFile(fleet.bench, reference, first)).toMatchObject({ fileName: "log.csv" });
  expect((await readDealerReturn(fleet.berlin, reference))?.earlierReadings).toMatchObject([
    { id: first, attachedByName: fleet.berlin.name },
  ]);
  // What the class rests on is asked anew.
  expect(await gaps()).not.toMatch(/no readings/i);
  const [moved] = await asSystem((tx) =>
    tx.returnMove.findMany({ where: { return: { reference } }, orderBy: { sequence: "desc" }, take: 1 }),
  );
  expect(moved).toMatchObject({ move: "add-readings", facts: { stated: { readings: bench?.readings?.sha256 } } });
  expect((await verifyEveryChain()).broken).toEqual([]);
});

test("the bench adds its own read-out, once more by the same question of columns, and the dealer sees it", async () => {
  const serial = fleet.soldInBerlin;
  const own = await uploaded(fleet.berlin, serial, undefined, log(120));
  const reference = await lodge(serial, own);
  const file = await uploaded(fleet.bench, serial, reference, log(180));
  expect(await addReadings(fleet.bench, reference, added(file, 1), now)).toEqual({ ok: true, version: 2 });
  const page = await readDealerReturn(fleet.berlin, reference);
  expect(page?.readings).toMatchObject({ id: file, rows: 180 });
  expect(page?.earlierReadings.map(({ id }) => id)).toEqual([own]);
});

test("a danger in readings that came later sets the pack apart, opens an incident and heads the queue", async () => {
  const serial = fleet.others[1] as Serial;
  const reference = await lodge(serial);
  const file = await uploaded(fleet.bench, serial, reference, hotLog());
  expect(await addReadings(fleet.bench, reference, added(file, 1), now)).toMatchObject({ ok: true });
  const page = await readBenchReturn(fleet.bench, reference);
  expect(page?.readings?.findings.map(({ safetyClass }) => safetyClass)).toContain("A0");
  expect(page?.next.safety.state).toBe("isolate");
  const incidents = await asSystem((tx) =>
    tx.incident.findMany({ where: { return: { reference } }, select: { entries: { select: { content: true } } } }),
  );
  expect(incidents).toHaveLength(1);
  expect(JSON.stringify(incidents)).toContain("file-analysis");
  const { riskRank: rank } = await asSystem((tx) => tx.return.findUniqueOrThrow({ where: { reference } }));
  expect(rank).toBe(riskRankUnderFlag({ from: "isolate", to: "isolate" }, riskRank("none", ["A0"], "isolate")));
  expect(rank).toBeGreaterThan(riskRank("set-apart", ["A1"], "isolate"));
  const told = await asSystem((tx) => tx.notice.count({ where: { reference, kind: "danger-raised" } }));
  expect(told).toBeGreaterThanOrEqual(2);

  // A quiet log that comes later silences nothing of it: not the class, not the place in the queue.
  const { version } = await asSystem((tx) => tx.return.findUniqueOrThrow({ where: { reference } }));
  const quiet = await uploaded(fleet.berlin, serial, reference, log(300));
  expect(await addReadings(fleet.berlin, reference, added(quiet, version), now)).toMatchObject({ ok: true });
  const transport = await readTransport(fleet.bench, reference);
  expect(transport?.proposal).toMatchObject({ safetyClass: "A0", transportClass: "do-not-ship" });
  expect(transport?.proposal.reasons.join(" ")).toMatch(/earlier readings, log\.csv/);
  const after = await asSystem((tx) => tx.return.findUniqueOrThrow({ where: { reference } }));
  expect(after.riskRank).toBe(rank);
});

test("nobody adds the readings of another pack, of another dealer, or twice, and none to a return that is decided on", async () => {
  const serial = fleet.others[2] as Serial;
  const other = fleet.others[3] as Serial;
  const reference = await lodge(serial);
  const foreign = await uploaded(fleet.berlin, other, undefined, log(130));
  expect(await addReadings(fleet.berlin, reference, added(foreign, 1), now)).toMatchObject({
    reason: "readings-missing",
  });
  const sydneys = await uploaded(fleet.sydney, serial, undefined, log(131));
  expect(await addReadings(fleet.berlin, reference, added(sydneys, 1), now)).toMatchObject({ ok: false });
  expect(await addReadings(fleet.sydney, reference, added(sydneys, 1), now)).toMatchObject({ reason: "not-found" });
  const mine = await uploaded(fleet.berlin, serial, reference, log(132));
  expect(await addReadings(fleet.manager, reference, added(mine, 1), now)).toMatchObject({ ok: false });
  expect(await addReadings(fleet.berlin, reference, added(mine, 1), now)).toMatchObject({ ok: true });
  expect(await addReadings(fleet.berlin, reference, added(mine, 2), now)).toMatchObject({ reason: "readings-missing" });
  expect(await upload(fleet.sydney, serial, reference, log(133))).toMatchObject({ ok: false });
  expect(await upload(fleet.finance, serial, reference, log(134))).toMatchObject({ ok: false });
  await makeMove(fleet.berlin, reference, { name: "withdraw", reason: "It works.", seenVersion: 2 }, now);
  expect(await upload(fleet.berlin, serial, reference, log(135))).toMatchObject({
    ok: false,
    sentence: expect.stringMatching(/no more readings/i),
  });
});

test("to a return that lies with somebody nobody is taken off by new readings or a proof", async () => {
  const serial = fleet.others[4] as Serial;
  const reference = await lodge(serial);
  await makeMove(fleet.bench, reference, act("take", 1), now);
  const file = await uploaded(fleet.berlin, serial, reference, log(140));
  expect(await addReadings(fleet.berlin, reference, added(file, 2), now)).toMatchObject({ ok: true });
  expect((await readBenchReturn(fleet.bench, reference))?.takenByName).toBe(fleet.bench.name);
  expect(await asSystem((tx) => tx.notice.count({ where: { reference, kind: "readings-came" } }))).toBe(1);
});

test("a danger that shows only once a column is read otherwise is told at once, under the return it was brought for", async () => {
  const serial = fleet.others[2] as Serial;
  const reference = await lodge(serial);
  const told = () =>
    asSystem(async (tx) => ({
      flags: await tx.track.count({ where: { track: "safety", state: "isolate", pack: { serial } } }),
      incidents: await tx.incident.findMany({
        where: { pack: { serial } },
        select: { return: { select: { reference: true } } },
      }),
    }));
  const column = "Zone";
  const file = await uploaded(fleet.berlin, serial, reference, hotLog().replace("Temperature T1 / degC", column));
  expect(await told()).toEqual({ flags: 0, incidents: [] });
  const asked = await askAgain(fleet.berlin, file);
  if (asked.ok || !("ask" in asked)) throw new Error("nothing was asked");
  const { columns, heldId } = asked.ask;
  const mapping = Object.fromEntries(columns.map(({ key, proposal }) => [key, proposal]));
  const heat = { quantity: "temperature", number: 1, unit: "degC", sign: null } as const;
  const answers = { mapping: { ...mapping, [column]: heat }, timeZone: null };
  const again = await readReceived(fleet.berlin, heldId, {}, { answers });
  expect(again).toMatchObject({ ok: true });
  // No form was sent since, and nobody added the file.
  expect(await told()).toEqual({ flags: 1, incidents: [{ return: { reference } }] });
});
